"""A run sheet as it was kept, and what has moved since."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from hashlib import blake2b
from typing import Any, cast

from projects.engine.setups.run_sheet import Job, Setup
from projects.models import RunSheet
from projects.run_sheets import Cut, Night, job_cuts

Text = dict[str, Any]


def snapshot(setups: Sequence[Setup]) -> list[Text]:
    """Return setups as `RunSheet.setups` keeps them: lengths as exact millimetres.

    `builds` holds for each build the steps and pieces it has in that setup.
    """
    found = []
    for setup in setups:
        builds: dict[str, list[list[str]]] = {}
        for job in setup.jobs:
            for build, step, piece in cuts_of(job):
                builds.setdefault(str(build), []).append([step, piece])
        found.append(
            {
                "key": ":".join((setup.kind, setup.rest, setup.side, *setup.at)),
                "at": {name: str(mm) for name, mm in setup.at.items()},
                "builds": builds,
            }
        )
    return found


def cuts_of(job: Job) -> tuple[Cut, ...]:
    """Return the pieces that a job cuts."""
    return job_cuts(build_of(job), job.step, job.setting)


def build_of(job: Job) -> int:
    """Return the number of the build that a job is of."""
    return cast(int, job.who)


@dataclass(frozen=True, kw_only=True)
class Moved:
    """One student moved from a setup to another, numbered from 1; `job` as it is."""

    build: int
    before: int
    now: int
    job: Job


@dataclass(frozen=True, kw_only=True)
class Changed:
    """A setup whose numbers changed: from `before` [mm] to those of `setup`."""

    number: int
    before: Mapping[str, Fraction]
    setup: Setup


@dataclass(frozen=True, kw_only=True)
class Since:
    """What happened since a sheet was kept; builds by number."""

    kept: RunSheet
    moved: tuple[Moved, ...]
    changed: tuple[Changed, ...]
    came: tuple[int, ...]
    went: tuple[int, ...]

    @property
    def is_same(self) -> bool:
        """Tell whether it is still as it was kept."""
        return not (self.moved or self.changed or self.came or self.went)


def since(kept: RunSheet, night: Night) -> Since:
    """Return what happened to a sheet since it was kept.

    A setup of then is that of now with which it shares the most pieces.
    """
    before: dict[Cut, int] = {
        (int(build), step, piece): number
        for number, setup in enumerate(kept.setups)
        for build, cuts in setup["builds"].items()
        for step, piece in cuts
    }
    setups = night.sheet.setups
    now = {
        cut: (number, job)
        for number, setup in enumerate(setups)
        for job in setup.jobs
        for cut in cuts_of(job)
    }
    same = _matched({cut: (before[cut], now[cut][0]) for cut in before if cut in now})
    moved = {
        (cut[0], before[cut], number): job
        for cut, (number, job) in now.items()
        if cut in before and same.get(before[cut]) != number
    }
    builds_then, builds_now = {c[0] for c in before}, {c[0] for c in now}
    return Since(
        kept=kept,
        moved=tuple(
            Moved(build=build, before=was + 1, now=number + 1, job=job)
            for (build, was, number), job in sorted(
                moved.items(), key=lambda item: item[0]
            )
        ),
        changed=tuple(_changed(kept, setups, same)),
        came=tuple(sorted(builds_now - builds_then)),
        went=tuple(sorted(builds_then - builds_now)),
    )


def _matched(pairs: Mapping[Cut, tuple[int, int]]) -> dict[int, int]:
    """Return which setup of now each of then is: the pairs that share the most."""
    same: dict[int, int] = {}
    for (was, number), _shared in Counter(pairs.values()).most_common():
        if was not in same and number not in same.values():
            same[was] = number
    return same


def _changed(
    kept: RunSheet, setups: Sequence[Setup], same: Mapping[int, int]
) -> list[Changed]:
    found = []
    for was, number in sorted(same.items(), key=lambda pair: pair[1]):
        before = {n: Fraction(mm) for n, mm in kept.setups[was]["at"].items()}
        if before != dict(setups[number].at):
            setup = setups[number]
            found.append(Changed(number=number + 1, before=before, setup=setup))
    return found


def cuts_key(cuts: Sequence[Cut]) -> str:
    """Return a short name of a student's pieces at a setup, for a button to send."""
    return blake2b(repr(sorted(cuts)).encode(), digest_size=8).hexdigest()


def cuts_named(night: Night, build: int, key: str) -> tuple[Cut, ...]:
    """Return a build's pieces at the setup where they have that name; else none."""
    for setup in night.sheet.setups:
        jobs = (job for job in setup.jobs if job.who == build)
        cuts = tuple(cut for job in jobs for cut in cuts_of(job))
        if cuts and cuts_key(cuts) == key:
            return cuts
    return ()
