"""Who can share a setup at a meeting: what a run sheet groups. Costs no query."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from projects.engine.meeting.records import Task, Way
from projects.engine.setups.grouping import fewest_groups
from projects.engine.setups.run_sheet import TOLERANCES, Job, sorted_wishes
from projects.engine.setups.setting_records import Kind
from projects.engine.shop.machines import HAND_TOOLS
from projects.models import Machine
from projects.night_minutes import change_minutes, step_minutes
from projects.night_tasks import Ahead
from projects.run_sheets import settings_at

Steps = Mapping[int, Sequence[Ahead]]
"""The steps that are planned ahead, by build."""


@dataclass(frozen=True, kw_only=True)
class Setups:
    """What a step needs of a machine: `shared` names its setups, "" shares with nobody.

    `further` says how often the setup changes within the step.
    """

    shared: str
    further: int


def tasks_by_build(steps: Steps) -> dict[int, tuple[Task, ...]]:
    """Return each build's steps as the engine plans them."""
    kinds = {
        machine.kind: _setups(steps, machine.kind)
        for every in steps.values()
        for step in every
        for machine in step.at
        if machine and machine.kind != HAND_TOOLS
    }
    return {
        build: tuple(
            Task(
                key=ahead.step.key,
                title=ahead.step.title,
                ways=tuple(_way(build, ahead, at, kinds) for at in ahead.at),
            )
            for ahead in every
        )
        for build, every in steps.items()
    }


def _way(
    build: int,
    ahead: Ahead,
    machine: Machine | None,
    kinds: Mapping[str, Mapping[tuple[int, str], Setups]],
) -> Way:
    kind = machine.kind if machine else ahead.bench
    minutes = step_minutes(machine, kind, ahead.step.stage)
    if machine is None:
        return Way(minutes=minutes)
    if kind == HAND_TOOLS:
        return Way(machine=str(machine.pk), minutes=minutes)
    setups = kinds[kind][build, ahead.step.key]
    return Way(
        machine=str(machine.pk),
        minutes=minutes + setups.further * change_minutes(machine),
        setup=setups.shared,
    )


def _setups(steps: Steps, kind: str) -> dict[tuple[int, str], Setups]:
    """Return what each step needs that can be done at a kind of machine."""
    here = {
        (build, ahead.step.key): ahead
        for build, every in steps.items()
        for ahead in every
        if any(machine and machine.kind == kind for machine in ahead.at)
    }
    jobs = {key: tuple(_jobs(key[0], ahead, kind)) for key, ahead in here.items()}
    groups = _groups([job for every in jobs.values() for job in every])
    return {key: _of(ahead, jobs[key], groups[key]) for key, ahead in here.items()}


def _jobs(build: int, ahead: Ahead, kind: str) -> Iterator[Job]:
    for setting in settings_at(ahead.solution, ahead.step, kind):
        yield Job(who=build, step=ahead.step.key, setting=setting)


def _groups(jobs: Sequence[Job]) -> Mapping[tuple[Hashable, str], set[int]]:
    """Return the numbers of the setups that each step's settings fall into."""
    found: defaultdict[tuple[Hashable, str], set[int]] = defaultdict(set)
    sorts = sorted_wishes(jobs, TOLERANCES)
    groups = [
        group for sort in sorted(sorts, key=str) for group in fewest_groups(sorts[sort])
    ]
    for number, group in enumerate(groups):
        for wish in group.wishes:
            found[wish.who.who, wish.who.step].add(number)
    return found


def _of(ahead: Ahead, jobs: Sequence[Job], groups: set[int]) -> Setups:
    waiting = sum(bool(job.setting.waits) for job in jobs)
    further = max(0, len(groups) + waiting - 1)
    if not jobs:
        # nothing is set for it: whoever does the same step finds all as it is
        return Setups(shared=f"step {ahead.revision} {ahead.step.key}", further=0)
    kinds: set[Kind] = {job.setting.kind for job in jobs}
    # setups of one kind can be made in either order, so the next begins with the last;
    # of two kinds one comes first, and has to be made again
    is_shared = ahead.is_known and not waiting and len(kinds) == 1
    named = " ".join(str(number) for number in sorted(groups))
    return Setups(shared=f"setup {named}" if is_shared else "", further=further)
