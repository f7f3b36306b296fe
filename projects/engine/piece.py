"""The solved piece as boxes, and where each slot lies on its host."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from projects.engine.drawing import Box
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import AXES, FaceName, Joint


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
    """Return the pairs (hidden, shown): whose end is dashed where both are as near.

    A blind joint hides the guest's end in the host; a through one shows it.
    """
    pairs = set()
    for joint in solution.plan.joints:
        cuts = solution.cuts[joint.key]
        ends = (joint.guest.part, joint.host.part)
        if cuts.depth_mm:
            pairs.add(ends if cuts.blind else ends[::-1])
    return frozenset(pairs)


@dataclass(frozen=True, kw_only=True)
class Place:
    """Say that a slot starts `mm` [mm] from the host's face `edge`."""

    edge: FaceName
    mm: Fraction


def places(solution: Solution, joint: Joint) -> tuple[Place, ...]:
    """Return where a joint's slot starts on its host, from the host's low faces.

    Where the plan doesn't fix the guest against that face nothing is said.
    """
    plan = solution.plan
    guest, host = (plan.part_by_key[f.part] for f in (joint.guest, joint.host))
    found = []
    for inset in solution.cuts[joint.key].insets:
        across = guest.across(joint.guest.axis)
        axis = guest.axes["thickness" if inset.of == "thickness" else across]
        guest_low, host_low = guest.faces_on(axis)[0], host.faces_on(axis)[0]
        form = solution.system.between(host_low, guest_low)
        if form is not None:
            mm = form.value(solution.values) + inset.mm
            found.append(Place(edge=host_low.name, mm=mm))
    return tuple(found)
