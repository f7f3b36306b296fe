"""What a joint cuts in its host."""

from __future__ import annotations

from projects.engine.drawing.records import Interval
from projects.engine.drawing.worked import Reach, WorkNote
from projects.engine.fit.solve import Solution
from projects.engine.joints import KINDS
from projects.engine.joints.dado import stops_of
from projects.engine.partwork.places import (
    ZERO,
    Cut,
    extent,
    insets_of,
    outside,
    parts_of,
    reach_on,
    unplaced,
)
from projects.engine.plan.records import AXES, Axis, Joint


def slot(solution: Solution, joint: Joint) -> Cut | WorkNote:
    """Return the slot a joint cuts in its host."""
    cuts, kind = solution.cuts[joint.key], KINDS[joint.kind]
    guest, host = parts_of(solution, joint)
    insets = insets_of(solution, joint)
    width_mm = cuts.width_mm or ZERO
    depth_mm = cuts.depth_mm or ZERO
    if not kind.cut_to_depth:
        depth_mm = next((m.mm for m in cuts.on_host if "depth" in m.name), depth_mm)
    spans: dict[Axis, Interval] = {}
    ends: dict[Axis, tuple[Reach, Reach]] = {}
    across = next(iter(insets))
    for axis in AXES:
        if axis == joint.host.axis:
            continue
        reach = reach_on(solution, guest, host, axis)
        if reach is None:
            return unplaced(solution, joint, axis, width_mm, depth_mm)
        low, high = reach
        inset = insets.get(axis, ZERO)
        span = (low + inset, low + inset + width_mm if axis == across else high - inset)
        span, ends[axis] = _ended(solution, joint, axis, span)
        if span[0] >= span[1]:
            return outside(solution, joint, axis, width_mm, depth_mm)
        spans[axis] = span
    if across not in spans:
        # The guest lies flat on the host: its thickness is the joint's own axis.
        across = next(iter(spans))
        width_mm = spans[across][1] - spans[across][0]
    return Cut(
        joint=joint.key,
        kind="slot",
        title=kind.slot or kind.title,
        other=guest.name,
        spans=spans,
        face=joint.host,
        across=across,
        width_mm=width_mm,
        depth_mm=depth_mm,
        through=depth_mm >= extent(solution, host, joint.host.axis),
        ends=ends,
    )


def _ended(
    solution: Solution, joint: Joint, axis: Axis, span: Interval
) -> tuple[Interval, tuple[Reach, Reach]]:
    """Return where a slot ends on its host, and how."""
    _, host = parts_of(solution, joint)
    whole = extent(solution, host, axis)
    inside: Reach = "stopped" if len(insets_of(solution, joint)) > 1 else "guest"
    low, high = span
    low_end: Reach = inside if low > 0 else "open"
    high_end: Reach = inside if high < whole else "open"
    low_name, high_name = (face.name for face in host.faces_on(axis))
    for stop in stops_of(joint) if joint.kind == "dado" else ():
        if stop.at == low_name:
            low, low_end = stop.by.mm, "stopped"
        if stop.at == high_name:
            high, high_end = whole - stop.by.mm, "stopped"
    return (max(low, ZERO), min(high, whole)), (low_end, high_end)


def lap_in_host(solution: Solution, joint: Joint) -> Cut | WorkNote:
    """Return the lap a joint cuts in its host: from one of its wide faces."""
    cuts = solution.cuts[joint.key]
    guest, host = parts_of(solution, joint)
    (across, inset), *_ = insets_of(solution, joint).items()
    width_mm, over_mm = cuts.width_mm or ZERO, cuts.depth_mm or ZERO
    depth_mm = extent(solution, host, host.axes["thickness"]) / 2
    reach = reach_on(solution, guest, host, across)
    if reach is None or host.axes["thickness"] in (across, joint.host.axis):
        return unplaced(solution, joint, across, width_mm, depth_mm)
    whole = extent(solution, host, joint.host.axis)
    over = (whole - over_mm, whole) if joint.host.is_high else (ZERO, over_mm)
    low = reach[0] + inset
    span, _ = _ended(solution, joint, across, (low, low + width_mm))
    if span[0] >= span[1]:
        return outside(solution, joint, across, width_mm, depth_mm)
    return Cut(
        joint=joint.key,
        kind="slot",
        title="Lap",
        other=guest.name,
        spans={across: span, joint.host.axis: over},
        face=host.faces_on(host.axes["thickness"])[1],
        either=True,
        across=across,
        width_mm=width_mm,
        depth_mm=depth_mm,
        ends={
            joint.host.axis: (
                "stopped" if over[0] > 0 else "open",
                "stopped" if over[1] < whole else "open",
            )
        },
    )
