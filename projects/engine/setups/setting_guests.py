"""The cuts that a joint asks for on its guest, and parts cut to their size."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from projects.engine.joints.dado import stops_of
from projects.engine.plan.records import FACES, Dimension, Face, FaceName, Joint, Part
from projects.engine.setups.lap_faces import guest_face
from projects.engine.setups.setting_hosts import HALF, holes, tenon_sums
from projects.engine.setups.setting_records import NOTHING, Sum
from projects.engine.setups.setting_sums import Sums, given
from projects.engine.setups.setting_work import Walls, Work


def tenon(sums: Sums, joint: Joint) -> Iterator[Work]:
    """Give a tenon's shoulders, then its cheeks; those on the edges where it has any.

    A shoulder is set from the end of the tenon; a cheek by what stays between the
    fence and the blade, with each of the two faces against the fence in its turn.
    """
    guest, _ = sums.parts_of(joint)
    thick, face, edge = tenon_sums(sums, joint)
    across = guest.across(joint.guest.axis)
    whole = sums.size(guest, across)
    cheek = sums.size(guest, "thickness").plus(thick).times(HALF)
    sides: tuple[tuple[Dimension, Sum, Sum], ...] = (
        ("thickness", face, cheek),
        (across, edge, whole.minus(edge)),
    )
    for dimension, shoulder, stays in sides:
        if shoulder.mm:
            yield from _shoulder_and_cheek(
                sums, joint, guest, dimension, shoulder, stays
            )


def _shoulder_and_cheek(
    sums: Sums,
    joint: Joint,
    guest: Part,
    dimension: Dimension,
    shoulder: Sum,
    stays: Sum,
) -> Iterator[Work]:
    length = sums.depth(joint)
    low, high = guest.faces_on(guest.axes[dimension])
    both: tuple[FaceName, ...] = (low.name, high.name)
    yield Work(
        part=guest,
        kind="shoulder",
        joint=joint.key,
        other=joint.host.part,
        worked=both,
        walls={joint.guest.name: Walls(gap=NOTHING, width=length, flush=True)},
        height=shoulder,
    )
    yield Work(
        part=guest,
        kind="cheek",
        joint=joint.key,
        other=joint.host.part,
        stop=stays,
        height=length,
        standing=joint.guest.name,
        in_turn=both,
    )


def guest_lap(sums: Sums, joint: Joint) -> Iterator[Work]:
    """Give the lap on the guest's end, from the face opposite to the host's."""
    guest, _ = sums.parts_of(joint)
    if guest.axes["thickness"] == joint.guest.axis:
        return
    length = sums.depth(joint)
    yield Work(
        part=guest,
        kind="lap",
        joint=joint.key,
        other=joint.host.part,
        worked=(guest_face(sums, joint),),
        either=True,
        walls={joint.guest.name: Walls(gap=NOTHING, width=length, flush=True)},
        width=length,
        height=sums.size(guest, "thickness").times(HALF),
    )


def notches(sums: Sums, joint: Joint) -> Iterator[Work]:
    """Give the notches that let a guest reach past the ends of a stopped slot."""
    guest, host = sums.parts_of(joint)
    depth = sums.depth(joint)
    for stop in stops_of(joint):
        axis, high = FACES[stop.at]
        outer, inner = host.faces_on(axis)[high], guest.faces_on(axis)[high]
        ends: tuple[Face, Face] = (inner, outer) if high else (outer, inner)
        setback = sums.between(guest, *ends) or NOTHING
        notch = given("stop", stop.by.mm).minus(setback)
        if not 0 < notch.mm < sums.size(guest, guest.dimension_on(axis)).mm:
            continue
        yield Work(
            part=guest,
            kind="notch",
            joint=joint.key,
            other=host.key,
            worked=(stop.at,),
            walls={joint.guest.name: Walls(gap=NOTHING, width=depth, flush=True)},
            height=notch,
        )


def _nothing(_sums: Sums, _joint: Joint) -> Iterator[Work]:
    return iter(())


GUEST_CUTS: dict[str, Callable[[Sums, Joint], Iterator[Work]]] = {
    "dado": notches,
    "rabbet": _nothing,
    "groove": _nothing,
    "butt": _nothing,
    "tenon": tenon,
    "half_lap": guest_lap,
    "dowel": lambda sums, joint: holes(sums, joint, joint.guest),
}
"""What each kind of joint cuts on its guest."""


def width(sums: Sums, part: Part) -> Work:
    """Return a part ripped to its width."""
    return Work(part=part, kind="rip", stop=sums.size(part, "width"))


def length(sums: Sums, part: Part) -> Work:
    """Return a part cut to its length."""
    return Work(part=part, kind="crosscut", stop=sums.size(part, "length"))


def thickness(sums: Sums, part: Part) -> Work:
    """Return a part planed to the thickness that the plan wants of its stock."""
    stock = sums.plan.stock_by_key[part.stock]
    wanted = given("wanted thickness", stock.thickness.mm)
    return Work(part=part, kind="thickness", height=wanted)
