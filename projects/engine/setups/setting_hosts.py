"""The cuts that a joint asks for in its host."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import cast

from projects.engine.joints.dado import stops_of
from projects.engine.joints.dowel import GLUE_ROOM_IN as HOLE_ROOM_IN
from projects.engine.joints.dowel import dowels_of
from projects.engine.joints.tenon import GLUE_ROOM_IN, Tenon
from projects.engine.plan.records import AXES, Axis, Face, FaceName, Joint, Part
from projects.engine.setups.lap_faces import host_face
from projects.engine.setups.setting_records import NOTHING, ONE, Kind, Sum
from projects.engine.setups.setting_sums import Sums, given
from projects.engine.setups.setting_work import Run, Walls, Work
from projects.engine.units import mm_per

HALF = Fraction(1, 2)


def slot(sums: Sums, joint: Joint) -> Iterator[Work]:
    """Give the dado, rabbet or groove that the guest sits in."""
    guest, host = sums.parts_of(joint)
    across = guest.axes["thickness"]
    play = sums.over_mean(guest).plus(sums.clearance(joint))
    width = sums.size(guest, "thickness").plus(play)
    if across == joint.host.axis:
        # the guest lies flat on the host: the slot is as wide as the guest
        across = next(axis for axis in AXES if axis != across)
        width, play = sums.size(guest, guest.dimension_on(across)), NOTHING
    walls = _walls(sums, joint, across, width, play=play)
    if walls is None:
        return
    yield Work(
        part=host,
        kind=_slot_kind(host, joint, across, walls),
        joint=joint.key,
        other=guest.key,
        worked=(joint.host.name,),
        walls=walls,
        width=width,
        height=sums.depth(joint),
        runs=_runs(sums, joint, _long_axis(joint, across)),
    )


def mortise(sums: Sums, joint: Joint) -> Iterator[Work]:
    """Give the mortise for a tenon."""
    guest, host = sums.parts_of(joint)
    across = guest.axes["thickness"]
    long = guest.axes[guest.across(joint.guest.axis)]
    thick, shoulder, edge = tenon_sums(sums, joint)
    tenon, play = cast(Tenon, joint.details), sums.clearance(joint)
    if tenon.thickness.length is None:
        share = tenon.thickness.share or ONE
        play = sums.over_mean(guest).times(share).plus(play)
    width = thick.plus(play)
    length = sums.size(guest, guest.dimension_on(long)).minus(edge).minus(edge)
    walls = _walls(sums, joint, across, width, play=play, inset=shoulder)
    if walls is None:
        return
    yield Work(
        part=host,
        kind="mortise",
        joint=joint.key,
        other=guest.key,
        worked=(joint.host.name,),
        walls=walls,
        width=width,
        height=_mortise_depth(sums, joint),
        runs={
            name: Run(short=gap.plus(edge), at_least=False)
            for name, gap in _gaps(sums, joint, long).items()
        },
        length=length,
    )


def tenon_sums(sums: Sums, joint: Joint) -> tuple[Sum, Sum, Sum]:
    """Return a tenon's thickness, and its shoulders on each face and each edge."""
    tenon, (guest, _) = cast(Tenon, joint.details), sums.parts_of(joint)
    whole = sums.size(guest, "thickness")
    if tenon.thickness.length is not None:
        thick = given("tenon thickness", tenon.thickness.length.mm)
    else:
        thick = whole.times(tenon.thickness.share or ONE)
    edge_mm = tenon.edge_shoulder.mm if tenon.edge_shoulder else Fraction(0)
    shoulder = whole.minus(thick).times(HALF)
    return thick, shoulder, given("edge shoulder", edge_mm)


def host_lap(sums: Sums, joint: Joint) -> Iterator[Work]:
    """Give the lap that a half lap cuts in its host, from one of its wide faces."""
    guest, host = sums.parts_of(joint)
    across = guest.axes[guest.across(joint.guest.axis)]
    thickness = host.axes["thickness"]
    if thickness in (across, joint.host.axis):
        return
    width = sums.size(guest, guest.across(joint.guest.axis))
    play = sums.clearance(joint)
    walls = _walls(sums, joint, across, width.plus(play), play=play)
    whole = sums.size(host, host.dimension_on(joint.host.axis))
    rest = whole.minus(sums.depth(joint))
    if walls is None:
        return
    yield Work(
        part=host,
        kind="lap",
        joint=joint.key,
        other=guest.key,
        worked=(host_face(sums, joint),),
        either=True,
        walls=walls,
        width=width.plus(play),
        height=sums.size(host, "thickness").times(HALF),
        runs={joint.host.opposite: Run(short=rest, at_least=False)} if rest.mm else {},
    )


def holes(sums: Sums, joint: Joint, face: Face) -> Iterator[Work]:
    """Give the dowel holes in one of the two faces that meet."""
    dowels = dowels_of(joint)
    if dowels is None:
        return
    other = joint.host if face == joint.guest else joint.guest
    room = given("room for glue", HOLE_ROOM_IN * mm_per("in"))
    yield Work(
        part=sums.plan.part_by_key[face.part],
        kind="hole",
        joint=joint.key,
        other=other.part,
        worked=(face.name,),
        width=given("dowel diameter", dowels.diameter.mm),
        height=given("half a dowel", dowels.length.mm / 2).plus(room),
        holes=dowels.count,
    )


def _nothing(_sums: Sums, _joint: Joint) -> Iterator[Work]:
    return iter(())


HOST_CUTS: dict[str, Callable[[Sums, Joint], Iterator[Work]]] = {
    "dado": slot,
    "rabbet": slot,
    "groove": slot,
    "butt": _nothing,
    "tenon": mortise,
    "half_lap": host_lap,
    "dowel": lambda sums, joint: holes(sums, joint, joint.host),
}
"""What each kind of joint cuts in its host."""


def _mortise_depth(sums: Sums, joint: Joint) -> Sum:
    _, host = sums.parts_of(joint)
    deep = sums.depth(joint).plus(given("room for glue", GLUE_ROOM_IN * mm_per("in")))
    through = sums.size(host, host.dimension_on(joint.host.axis))
    return deep if deep.mm < through.mm else through


def _slot_kind(
    host: Part, joint: Joint, across: Axis, walls: dict[FaceName, Walls]
) -> Kind:
    if any(wall.open for wall in walls.values()):
        return "rabbet"
    on_face = joint.host.axis != host.axes["length"]
    return "slot" if on_face and across == host.axes["length"] else "groove"


def _long_axis(joint: Joint, across: Axis) -> Axis:
    return next(axis for axis in AXES if axis not in (across, joint.host.axis))


def _walls(
    sums: Sums,
    joint: Joint,
    axis: Axis,
    width: Sum,
    *,
    play: Sum,
    inset: Sum = NOTHING,
) -> dict[FaceName, Walls] | None:
    """Return a slot's walls from both ends of its host; None where it misses it.

    It starts `inset` in from the guest's low face and is `play` wider than what sits
    in it. Where the plan doesn't fix its place there are none.
    """
    _, host = sums.parts_of(joint)
    gaps = _gaps(sums, joint, axis)
    if len(gaps) < 2:
        return {}
    low, high = (face.name for face in host.faces_on(axis))
    walls = {
        low: Walls(gap=gaps[low], width=width, inset=inset),
        high: Walls(gap=gaps[high], width=width, inset=inset, play=play),
    }
    if any(wall.near_mm + width.mm <= 0 for wall in walls.values()):
        # the plan puts the guest past the host
        return None
    return {
        end: replace(wall, flush=True) if not (wall.gap.mm or inset.mm) else wall
        for end, wall in walls.items()
    }


def _gaps(sums: Sums, joint: Joint, axis: Axis) -> dict[FaceName, Sum]:
    """Return how far inside the host's ends on an axis the guest's lie."""
    guest, host = sums.parts_of(joint)
    low, high = host.faces_on(axis)
    guest_low, guest_high = guest.faces_on(axis)
    found = {
        low.name: sums.between(host, low, guest_low),
        high.name: sums.between(host, guest_high, high),
    }
    return {name: gap for name, gap in found.items() if gap is not None}


def _runs(sums: Sums, joint: Joint, axis: Axis) -> dict[FaceName, Run]:
    """Return where a slot ends short of its host's edges."""
    found = {
        name: Run(short=gap, at_least=True)
        for name, gap in _gaps(sums, joint, axis).items()
        if gap.mm > 0
    }
    for stop in stops_of(joint) if joint.kind == "dado" else ():
        short = given("stop", stop.by.mm)
        found[stop.at] = Run(short=short, at_least=False)
    return found
