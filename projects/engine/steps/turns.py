"""When in a list of steps each part, joint and distance has its turn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from projects.engine.plan.records import Joint, Plan
from projects.engine.plan.steps import Stage, Step
from projects.engine.shop.machines import MACHINES
from projects.engine.steps.cutting import must_cut
from projects.engine.steps.rounds import Rounds, rounds_of

CUTTING: tuple[Stage, ...] = ("mill", "joinery", "fitted", "shaping")
"""The stages in which parts and joints are cut."""

JointSide = tuple[str, str]


@dataclass(frozen=True, kw_only=True)
class Turns:
    """Hold places in `steps`, counted from 0.

    `part` says where each part has its size, `joint` where a joint (first) is cut in
    a part (second), `distance` where something is measured. What never has its turn
    is missing.
    """

    plan: Plan
    steps: tuple[Step, ...]
    rounds: Rounds
    part: Mapping[str, int]
    joint: Mapping[JointSide, int]
    distance: Mapping[str, int]


def turns_of(plan: Plan, steps: tuple[Step, ...]) -> Turns:
    """Return when everything in `plan` has its turn."""
    rounds = rounds_of(plan)
    part: dict[str, int] = {}
    for key in rounds.part:
        places = _sizing(steps, key)
        if places:
            # a part that waits may be cut roughly before, but has its size last
            part[key] = places[-1] if rounds.waits[key] else places[0]
    joint: dict[JointSide, int] = {}
    for n, step in enumerate(steps):
        if step.stage in CUTTING:
            for key in step.joints:
                for side in sides(step, plan.joint_by_key[key]):
                    joint.setdefault((key, side), n)
    return Turns(
        plan=plan,
        steps=steps,
        rounds=rounds,
        part=part,
        joint=joint,
        distance=_measuring(plan, steps),
    )


def sides(step: Step, joint: Joint) -> tuple[str, ...]:
    """Return the parts in which a step works on a joint."""
    ends = (joint.host.part, joint.guest.part)
    return tuple(end for end in ends if end in step.parts) or must_cut(joint)


def _sizing(steps: tuple[Step, ...], part: str) -> list[int]:
    """Return the places at which a part is cut to size.

    Those are the steps that name it and no joint, at a machine that cuts to size; or
    any cutting step that names it, where there are none.
    """
    named = [
        (n, step)
        for n, step in enumerate(steps)
        if part in step.parts and step.stage in CUTTING
    ]
    plain = [
        n
        for n, step in named
        if MACHINES[step.machine].sizes_parts
        and not step.joints
        and step.stage != "shaping"
    ]
    return plain or [n for n, _step in named]


def _measuring(plan: Plan, steps: tuple[Step, ...]) -> dict[str, int]:
    """Return where each thing is measured first.

    A dry fit that names nothing measures every dry-fit distance that no step names.
    """
    found: dict[str, int] = {}
    for n, step in enumerate(steps):
        for key in step.measures:
            found.setdefault(key, n)
    silent = (n for n, s in enumerate(steps) if s.stage == "dry_fit" and not s.measures)
    first = next(silent, None)
    if first is not None:
        for distance in plan.distances:
            if distance.dry_fit:
                found.setdefault(distance.key, first)
    return found
