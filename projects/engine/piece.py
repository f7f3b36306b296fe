"""The solved piece as boxes, and where each slot lies on its host."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.drawing import Box
from projects.engine.fit.solve import Solution
from projects.engine.joints import Cuts
from projects.engine.plan.records import AXES, Axis, FaceName, Joint, Plan


def boxes(solution: Solution) -> tuple[Box, ...]:
    """Return each part's place in the assembled piece [mm]."""
    made = []
    for part in solution.plan.parts:
        low_high = {}
        for axis in AXES:
            low, high = (
                solution.system.positions[face].value(solution.values)
                for face in part.faces_on(axis)
            )
            low_high[axis] = (low, high)
        made.append(Box(key=part.key, name=part.name, **low_high))
    return tuple(made)


def housed(solution: Solution) -> frozenset[tuple[str, str]]:
    """Return the pairs (hidden, shown): whose end is dashed where both are as near."""
    return housed_by(solution.plan, solution.cuts)


def housed_by(plan: Plan, cuts: Mapping[str, Cuts]) -> frozenset[tuple[str, str]]:
    """Return the pairs that `housed` does, for the joints whose cuts are known.

    A blind joint hides the guest's end in the host; a through one shows it.
    """
    pairs = set()
    for joint in plan.joints:
        cut = cuts.get(joint.key)
        ends = (joint.guest.part, joint.host.part)
        if cut is not None and cut.depth_mm:
            pairs.add(ends if cut.blind else ends[::-1])
    return frozenset(pairs)


@dataclass(frozen=True, kw_only=True)
class Place:
    """Say where a slot starts: `mm` [mm] from the host's face `edge`; 0 is along it."""

    edge: FaceName
    mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Ending:
    """Say that a slot ends `mm` [mm] short of the host's face `edge`."""

    edge: FaceName
    mm: Fraction


def places(solution: Solution, joint: Joint) -> tuple[Place, ...]:
    """Return where a joint's slot starts on its host.

    It is told from the host's low face, or as along the edge that it runs out at.
    Where the plan doesn't fix the guest against the host nothing is said.
    """
    found = []
    for inset in solution.cuts[joint.key].insets:
        axis = _axis(solution, joint, inset.of)
        offsets = _offsets(solution, joint, axis)
        if offsets is None:
            continue
        (low, before), (high, after) = offsets
        if not after + inset.mm and before + inset.mm:
            found.append(Place(edge=high, mm=Fraction(0)))
        else:
            found.append(Place(edge=low, mm=before + inset.mm))
    return tuple(found)


def endings(solution: Solution, joint: Joint) -> tuple[Ending, ...]:
    """Return where a slot ends short of the host's edges; stops are told apart."""
    cuts = solution.cuts[joint.key]
    if any(inset.of == "across" for inset in cuts.insets) or not cuts.insets:
        return ()
    offsets = _offsets(solution, joint, _axis(solution, joint, "across"))
    return tuple(Ending(edge=edge, mm=mm) for edge, mm in offsets or () if mm > 0)


def _axis(solution: Solution, joint: Joint, of: str) -> Axis:
    guest = solution.plan.part_by_key[joint.guest.part]
    return guest.axes[
        "thickness" if of == "thickness" else guest.across(joint.guest.axis)
    ]


def _offsets(
    solution: Solution, joint: Joint, axis: Axis
) -> tuple[tuple[FaceName, Fraction], tuple[FaceName, Fraction]] | None:
    """Return how far inside the host's low and high face the guest's lie [mm]."""
    plan, system = solution.plan, solution.system
    guest, host = (plan.part_by_key[f.part] for f in (joint.guest, joint.host))
    (guest_low, guest_high), (host_low, host_high) = (
        part.faces_on(axis) for part in (guest, host)
    )
    before = system.between(host_low, guest_low)
    after = system.between(guest_high, host_high)
    if before is None or after is None:
        return None
    return (
        (host_low.name, before.value(solution.values)),
        (host_high.name, after.value(solution.values)),
    )
