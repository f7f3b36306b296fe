"""Propose a plan's steps from its parts and joints.

Source of the notes and of the order: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from projects.engine.plan.reader import MOST
from projects.engine.plan.records import Plan
from projects.engine.plan.steps import STOCK, Step
from projects.engine.shop.machines import MACHINES
from projects.engine.steps import milling, together
from projects.engine.steps.groups import Group, groups_of
from projects.engine.steps.rounds import Rounds, rounds_of
from projects.engine.steps.words import fitting, free_key, has_pair, part_names

MIRRORED = (
    "Left and right are mirror images: lay them inside face to inside face, mark "
    "both, and check before each cut."
)


def propose(plan: Plan) -> tuple[Step, ...]:
    """Return steps in a sensible order: milled, joined, dry fitted, glued, finished.

    The same plan always gives the same steps. Cuts of one setting share a step; in a
    plan with so many that a plan file would not take them, all cuts of one kind do.
    """
    rounds = rounds_of(plan)
    steps = _steps(plan, rounds, fine=True)
    if len(steps) > MOST["steps"]:
        steps = _steps(plan, rounds, fine=False)
    return _each_with_its_key(steps)


def _steps(plan: Plan, rounds: Rounds, *, fine: bool) -> list[Step]:
    groups = groups_of(plan, rounds, fine=fine)
    steps = [*milling.stock_steps(plan, each=fine)]
    for now in range(rounds.last + 1):
        steps += milling.size_steps(plan, rounds, now)
        steps += (_cut(plan, rounds, group) for group in groups if group.round == now)
        steps += together.dry_fit(plan, rounds, now)
    return [*steps, *together.closing_steps(plan)]


def _cut(plan: Plan, rounds: Rounds, group: Group) -> Step:
    cutting, parts = group.cutting, tuple(group.parts)
    joints = tuple(group.joints.values())
    ends = [end.part for joint in joints for end in (joint.host, joint.guest)]
    words = {
        "cuts": cutting.one if sum(e in parts for e in ends) == 1 else cutting.many,
        "guests": part_names(plan, (joint.guest.part for joint in joints)),
        "hosts": part_names(plan, (joint.host.part for joint in joints)),
    }
    return Step(
        key=f"{cutting.key}_{joints[0].key}",
        title=fitting(
            *(title.format(**words) for title in cutting.titles),
            f"{cutting.many.capitalize()} in {len(parts)} parts",
        ),
        stage="fitted" if group.round else "joinery",
        machine=cutting.machine,
        other_ways=cutting.other_ways,
        parts=parts,
        joints=tuple(group.joints),
        measured_first=_measured_first(plan, rounds, group),
        cautions=(*MACHINES[cutting.machine].cautions, *cutting.cautions),
        note=f"{cutting.note} {MIRRORED}" if has_pair(plan, parts) else cutting.note,
    )


def _measured_first(plan: Plan, rounds: Rounds, group: Group) -> tuple[str, ...]:
    """Return what the parts wait for, and the thicknesses the cuts are made for."""
    waits = [key for part in group.parts for key in rounds.waits[part]]
    guests = (plan.part_by_key[j.guest.part] for j in group.joints.values())
    return tuple(dict.fromkeys([*waits, *(STOCK + part.stock for part in guests)]))


def _each_with_its_key(steps: Iterable[Step]) -> tuple[Step, ...]:
    made: dict[str, Step] = {}
    for step in steps:
        key = free_key(step.key, made)
        made[key] = replace(step, key=key)
    return tuple(made.values())
