"""The record of a cut, and where one part lies on another.

Places on a part are measured from its left, front and bottom faces, whatever the
part's place in the piece.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from projects.engine.drawing.records import Interval
from projects.engine.drawing.worked import Measured, Reach, WorkNote
from projects.engine.fit.solve import Solution
from projects.engine.joints import KINDS
from projects.engine.plan.records import Axis, Face, Joint, Part

Spans = Mapping[Axis, Interval]
ZERO = Fraction(0)


@dataclass(frozen=True, kw_only=True)
class Cut:
    """Hold one cut on a part: where it lies on each axis [mm], and on which face.

    `face` is the face it is made from; None where it goes across the part and is
    seen on every face along its axes. `either` says that the plan leaves open
    whether it is that face or the opposite one. For the rest see `SlotMark`.
    """

    joint: str
    kind: Literal["slot", "tenon", "notch", "holes"]
    title: str
    other: str
    spans: Spans
    face: Face | None
    across: Axis
    width_mm: Fraction
    either: bool = False
    depth_mm: Fraction | None = None
    through: bool = False
    ends: Mapping[Axis, tuple[Reach, Reach]] = field(default_factory=dict)
    measures: tuple[Measured, ...] = ()


def extent(solution: Solution, part: Part, axis: Axis) -> Fraction:
    """Return how far a part reaches along an axis [mm]."""
    return solution.sizes[part.key, part.dimension_on(axis)]


def parts_of(solution: Solution, joint: Joint) -> tuple[Part, Part]:
    """Return a joint's guest and its host."""
    by_key = solution.plan.part_by_key
    return by_key[joint.guest.part], by_key[joint.host.part]


def reach_on(solution: Solution, of: Part, on: Part, axis: Axis) -> Interval | None:
    """Return from where to where one part reaches on another [mm], if it is fixed."""
    start, _ = on.faces_on(axis)
    low, high = (solution.system.between(start, face) for face in of.faces_on(axis))
    if low is None or high is None:
        return None
    return low.value(solution.values), high.value(solution.values)


def insets_of(solution: Solution, joint: Joint) -> dict[Axis, Fraction]:
    """Return how far the slot lies inside the guest [mm], the slot's width first."""
    guest, _ = parts_of(solution, joint)
    across = guest.across(joint.guest.axis)
    return {
        guest.axes["thickness" if inset.of == "thickness" else across]: inset.mm
        for inset in solution.cuts[joint.key].insets
    }


def end_span(solution: Solution, joint: Joint, mm: Fraction) -> Interval:
    """Return the stretch of the guest at the end that meets its host [mm]."""
    guest, _ = parts_of(solution, joint)
    whole = extent(solution, guest, joint.guest.axis)
    return (whole - mm, whole) if joint.guest.is_high else (ZERO, mm)


def unplaced(
    solution: Solution, joint: Joint, axis: Axis, width_mm: Fraction, depth_mm: Fraction
) -> WorkNote:
    """Say that the plan doesn't fix where along an axis a cut lies [mm]."""
    _, host = parts_of(solution, joint)
    low, _ = host.faces_on(axis)
    why = f"the plan doesn't say how far from the {low.name}"
    return _note(solution, joint, width_mm, depth_mm, why)


def outside(
    solution: Solution, joint: Joint, axis: Axis, width_mm: Fraction, depth_mm: Fraction
) -> WorkNote:
    """Say that a cut would lie past its host along an axis [mm]."""
    _, host = parts_of(solution, joint)
    low, high = host.faces_on(axis)
    why = f"the plan puts it past the part, {low.name} to {high.name}"
    return _note(solution, joint, width_mm, depth_mm, why)


def _note(
    solution: Solution, joint: Joint, width_mm: Fraction, depth_mm: Fraction, why: str
) -> WorkNote:
    guest, _ = parts_of(solution, joint)
    return WorkNote(
        title=KINDS[joint.kind].slot or KINDS[joint.kind].title,
        other=guest.name,
        measures=(
            Measured(name="width", mm=width_mm),
            Measured(name="depth", mm=depth_mm),
        ),
        why=why,
    )
