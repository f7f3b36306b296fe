"""A dado: a slot across the grain of the host that the guest's end sits in.

Through by default. With `stops` it ends short of one or both faces of the host:

    "stops": [{"at": "front", "by": "1/2"}]

The slot then ends `by` behind the host's front face, and the guest's corner is
notched by the slot's depth to reach past the end.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import cast

from projects.engine.errors import PlanError
from projects.engine.joints.base import SLOT_AT_GUEST, Cuts, JointKind, Measure, Seat
from projects.engine.plan.fields import Fields, read_any_length, read_choice
from projects.engine.plan.records import FACES, FaceName, Joint, Part
from projects.engine.units import Length
from projects.engine.units.length import UnitSystem


@dataclass(frozen=True, kw_only=True)
class Stop:
    """Say that a slot ends `by` short of the host's face `at`."""

    at: FaceName
    by: Length


def _read_stops(fields: Fields, unit: UnitSystem) -> tuple[Stop, ...]:
    stops = []
    for where, value in fields.items("stops", at_most=2):
        entry = Fields(value, where, fields.errors)
        at = entry.need("at", lambda v, w: read_choice(v, w, FACES))
        by = entry.need("by", lambda v, w: read_any_length(v, w, unit))
        entry.done()
        if at and by:
            stops.append(Stop(at=cast(FaceName, at), by=by))
    return tuple(stops)


def stops_of(joint: Joint) -> tuple[Stop, ...]:
    """Return where the slot of a dado ends short; empty for a through dado."""
    return cast(tuple[Stop, ...], joint.details)


def _check(joint: Joint, guest: Part, _host: Part) -> Iterable[str]:
    across = {joint.host.axis, guest.axes["thickness"]}
    for stop in stops_of(joint):
        if FACES[stop.at][0] in across:
            yield f"the slot does not run to the {stop.at} face, so can't stop there"
    if len({stop.at for stop in stops_of(joint)}) < len(stops_of(joint)):
        yield "stops names one face twice"


def _setbacks(joint: Joint) -> tuple[FaceName, ...]:
    return tuple(stop.at for stop in stops_of(joint))


def _cuts(joint: Joint, seat: Seat) -> Cuts:
    stops = stops_of(joint)
    if sum(stop.by.mm for stop in stops) >= seat.guest_across_mm:
        raise PlanError("joint {key}: its stops leave no slot", key=joint.key)
    on_host, on_guest = [], []
    for stop in stops:
        on_host.append(Measure(name=f"stops short of the {stop.at} by", mm=stop.by.mm))
        # a guest that stands back already needs less of a notch, or none
        setback_mm = seat.setbacks_mm.get(stop.at, Fraction(0))
        if stop.by.mm > setback_mm:
            notch_mm = stop.by.mm - setback_mm
            on_guest.append(Measure(name=f"notch the {stop.at} by", mm=notch_mm))
    return Cuts(
        width_mm=seat.slot_mm,
        depth_mm=seat.depth_mm,
        on_host=tuple(on_host),
        on_guest=tuple(on_guest),
        insets=SLOT_AT_GUEST,
        blind=bool(stops),
    )


KIND = JointKind(
    key="dado",
    title="Dado",
    slot="Dado",
    depth="needed",
    cuts=_cuts,
    read=_read_stops,
    check=_check,
    setbacks=_setbacks,
    cautions=("slot_at_saw", "slot_with_router"),
)
