"""What a joint cuts on its guest, and the holes drilled in both."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from projects.engine.drawing.records import Interval
from projects.engine.drawing.worked import Measured, WorkNote
from projects.engine.fit.solve import Solution
from projects.engine.joints import KINDS
from projects.engine.joints.dado import stops_of
from projects.engine.partwork.places import (
    ZERO,
    Cut,
    end_span,
    extent,
    insets_of,
    parts_of,
    reach_on,
)
from projects.engine.plan.records import AXES, FACES, Axis, Face, FaceName, Joint, Part


def lap_on_guest(solution: Solution, joint: Joint) -> Cut | WorkNote:
    """Return the lap a joint cuts on its guest's end: from one of its wide faces."""
    guest, host = parts_of(solution, joint)
    over_mm = solution.cuts[joint.key].depth_mm or ZERO
    thickness = guest.axes["thickness"]
    depth_mm = extent(solution, guest, thickness) / 2
    across = guest.axes[guest.across(joint.guest.axis)]
    if thickness in (across, joint.guest.axis):
        return WorkNote(
            title="Lap",
            other=host.name,
            measures=(
                Measured(name="lap length", mm=over_mm),
                Measured(name="cut away", mm=depth_mm),
            ),
            why="it is not cut from a wide face",
        )
    return Cut(
        joint=joint.key,
        kind="slot",
        title="Lap",
        other=host.name,
        spans={
            joint.guest.axis: end_span(solution, joint, over_mm),
            across: (ZERO, extent(solution, guest, across)),
        },
        face=guest.faces_on(thickness)[1],
        either=True,
        across=joint.guest.axis,
        width_mm=over_mm,
        depth_mm=depth_mm,
        ends={across: ("open", "open")},
    )


def tenon(solution: Solution, joint: Joint) -> Cut:
    """Return the tenon on the end of a guest."""
    guest, host = parts_of(solution, joint)
    cuts = solution.cuts[joint.key]
    length_mm = cuts.depth_mm or ZERO
    spans: dict[Axis, Interval] = {
        joint.guest.axis: end_span(solution, joint, length_mm)
    }
    for axis, inset in insets_of(solution, joint).items():
        spans[axis] = (inset, extent(solution, guest, axis) - inset)
    return Cut(
        joint=joint.key,
        kind="tenon",
        title=KINDS[joint.kind].title,
        other=host.name,
        spans=spans,
        face=None,
        across=joint.guest.axis,
        width_mm=length_mm,
        measures=tuple(Measured(name=m.name, mm=m.mm) for m in cuts.on_guest if m.mm),
    )


def notches(solution: Solution, joint: Joint) -> Iterator[Cut]:
    """Give the notches that let a guest reach past the ends of a stopped slot."""
    guest, host = parts_of(solution, joint)
    depth_mm = solution.cuts[joint.key].depth_mm or ZERO
    for stop in stops_of(joint) if joint.kind == "dado" else ():
        axis, high = FACES[stop.at]
        notch_mm = stop.by.mm - _setback(solution, guest, host, stop.at)
        whole = extent(solution, guest, axis)
        if not 0 < notch_mm < whole:
            continue
        yield Cut(
            joint=joint.key,
            kind="notch",
            title="Notch",
            other=host.name,
            spans={
                joint.guest.axis: end_span(solution, joint, depth_mm),
                axis: (whole - notch_mm, whole) if high else (ZERO, notch_mm),
            },
            face=None,
            across=axis,
            width_mm=notch_mm,
        )


def _setback(solution: Solution, guest: Part, host: Part, at: FaceName) -> Fraction:
    """Return how far inside the host's face the guest's lies [mm]; 0 if not fixed."""
    axis, high = FACES[at]
    outer, inner = host.faces_on(axis)[high], guest.faces_on(axis)[high]
    form = solution.system.between(*((inner, outer) if high else (outer, inner)))
    return form.value(solution.values) if form else ZERO


def holes(solution: Solution, joint: Joint, face: Face, other: Part) -> Cut | WorkNote:
    """Return the holes drilled in a face: somewhere where the two parts touch."""
    part = solution.plan.part_by_key[face.part]
    cuts = solution.cuts[joint.key]
    measures = tuple(Measured(name=m.name, mm=m.mm) for m in cuts.on_host)
    spans: dict[Axis, Interval] = {}
    for axis in AXES:
        if axis == face.axis:
            continue
        reach = reach_on(solution, other, part, axis)
        low, high = reach or (ZERO, ZERO)
        spans[axis] = (max(low, ZERO), min(high, extent(solution, part, axis)))
    if any(low >= high for low, high in spans.values()):
        return WorkNote(
            title=KINDS[joint.kind].title,
            other=other.name,
            measures=measures,
            why="the plan doesn't say where the parts touch",
        )
    across = next(iter(spans))
    return Cut(
        joint=joint.key,
        kind="holes",
        title=KINDS[joint.kind].title,
        other=other.name,
        spans=spans,
        face=face,
        across=across,
        width_mm=spans[across][1] - spans[across][0],
        measures=measures,
    )
