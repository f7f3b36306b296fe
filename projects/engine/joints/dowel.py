"""A dowelled joint: the faces touch, and dowels in drilled holes hold them.

    "dowels": {"diameter": "3/8", "length": "2", "count": 2}

Half of each dowel goes into each part; the holes are drilled a little deeper.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

from projects.engine.errors import PlanError
from projects.engine.joints.base import Cuts, JointKind, Measure, Seat
from projects.engine.plan.fields import Fields, read_any_length, read_whole
from projects.engine.plan.records import Joint
from projects.engine.units import Length, exact_text, mm_per
from projects.engine.units.length import UnitSystem

GLUE_ROOM_IN = Fraction(1, 16)
"""How much deeper than half the dowel each hole is [in].

Source: common practice, no source.
"""


@dataclass(frozen=True, kw_only=True)
class Dowels:
    """Say which dowels a joint has."""

    diameter: Length
    length: Length
    count: int


def _read(fields: Fields, unit: UnitSystem) -> Dowels | None:
    def read(value: Any, where: str) -> Dowels | None:
        entry = Fields(value, where, fields.errors)
        diameter = entry.need("diameter", lambda v, w: read_any_length(v, w, unit))
        length = entry.need("length", lambda v, w: read_any_length(v, w, unit))
        count = entry.need("count", lambda v, w: read_whole(v, w, at_most=100))
        entry.done()
        if diameter is None or length is None or count is None:
            return None
        return Dowels(diameter=diameter, length=length, count=count)

    return fields.get("dowels", read)


def dowels_of(joint: Joint) -> Dowels | None:
    """Return the dowels of a joint, or None where the plan doesn't say."""
    return cast(Dowels | None, joint.details)


def _cuts(joint: Joint, seat: Seat) -> Cuts:
    dowels = dowels_of(joint)
    if dowels is None:
        return Cuts(width_mm=None, depth_mm=None)
    deep_mm = dowels.length.mm / 2 + GLUE_ROOM_IN * mm_per("in")
    if deep_mm > seat.host_extent_mm:
        raise PlanError(
            "joint {key}: its holes are {deep} deep, but its host is only {extent}",
            key=joint.key,
            deep=exact_text(deep_mm, unit="in"),
            extent=exact_text(seat.host_extent_mm, unit="in"),
        )
    holes = (
        Measure(name=f"{dowels.count} holes, diameter", mm=dowels.diameter.mm),
        Measure(name="hole depth", mm=deep_mm),
    )
    return Cuts(width_mm=None, depth_mm=None, on_host=holes, on_guest=holes)


KIND = JointKind(
    key="dowel",
    title="Dowels",
    slot="",
    depth="none",
    cuts=_cuts,
    read=_read,
    cautions=("drill",),
)
