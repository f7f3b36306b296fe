"""A tenon on the guest's end in a mortise in the host; its length is the depth.

    "tenon": {"thickness": "1/4", "edge_shoulder": "1/2"}

`thickness` is a length or a share of the guest's thickness; the shoulders on the
two wide faces share what is left. `edge_shoulder` is cut from each narrow edge.
Where a plan gives no thickness the tenon is as thick as the guest, so that it has
no shoulders on its faces.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

from projects.engine.errors import PlanError
from projects.engine.joints.base import Cuts, Inset, JointKind, Measure, Seat
from projects.engine.plan.fields import Fields, read_any_length, read_depth
from projects.engine.plan.records import Depth, Joint
from projects.engine.units import Length, exact_text, mm_per
from projects.engine.units.length import UnitSystem

GLUE_ROOM_IN = Fraction(1, 16)
"""How much deeper than the tenon is long a blind mortise is [in].

Source: common practice, no source (texts give 1/16 to 1/8 in).
"""


@dataclass(frozen=True, kw_only=True)
class Tenon:
    """Say how thick a tenon is and what is cut from its narrow edges."""

    thickness: Depth
    edge_shoulder: Length | None


def _read(fields: Fields, unit: UnitSystem) -> Tenon:
    nothing = Tenon(thickness=Depth(share=Fraction(1)), edge_shoulder=None)

    def read(value: Any, where: str) -> Tenon:
        entry = Fields(value, where, fields.errors)
        thickness = entry.get("thickness", lambda v, w: read_depth(v, w, unit))
        shoulder = entry.get("edge_shoulder", lambda v, w: read_any_length(v, w, unit))
        entry.done()
        return Tenon(thickness=thickness or nothing.thickness, edge_shoulder=shoulder)

    return fields.get("tenon", read) or nothing


def _cuts(joint: Joint, seat: Seat) -> Cuts:
    tenon = cast(Tenon, joint.details)
    if tenon.thickness.length is not None:
        thick_mm = tenon.thickness.length.mm
        mortise_mm = thick_mm + seat.clearance_mm
    else:
        share = tenon.thickness.share or Fraction(1)
        thick_mm = share * seat.guest_thickness_mm
        mortise_mm = share * seat.guest_thickest_mm + seat.clearance_mm
    edge_mm = tenon.edge_shoulder.mm if tenon.edge_shoulder else Fraction(0)
    wide_mm = seat.guest_across_mm - 2 * edge_mm
    shoulder_mm = (seat.guest_thickness_mm - thick_mm) / 2
    _refuse_impossible(joint, seat, shoulder_mm, wide_mm)
    room_mm = GLUE_ROOM_IN * mm_per("in")
    deep_mm = min(seat.depth_mm + room_mm, seat.host_extent_mm)
    return Cuts(
        width_mm=mortise_mm,
        depth_mm=seat.depth_mm,
        on_host=(
            Measure(name="mortise depth", mm=deep_mm),
            Measure(name="mortise length", mm=wide_mm),
        ),
        on_guest=(
            Measure(name="tenon length", mm=seat.depth_mm),
            Measure(name="thickness", mm=thick_mm),
            Measure(name="width", mm=wide_mm),
            Measure(name="shoulder on each face", mm=shoulder_mm),
            Measure(name="shoulder on each edge", mm=edge_mm),
        ),
        insets=(
            Inset(of="thickness", mm=shoulder_mm),
            Inset(of="across", mm=edge_mm),
        ),
        blind=seat.depth_mm < seat.host_extent_mm,
    )


def _refuse_impossible(
    joint: Joint, seat: Seat, shoulder_mm: Fraction, wide_mm: Fraction
) -> None:
    if shoulder_mm < 0:
        raise PlanError(
            "joint {key}: the tenon is {by} thicker than the part it is cut on "
            "({thick})",
            key=joint.key,
            by=exact_text(-2 * shoulder_mm, unit="in"),
            thick=exact_text(seat.guest_thickness_mm, unit="in"),
        )
    if wide_mm <= 0:
        raise PlanError(
            "joint {key}: the shoulders on the edges leave no tenon", key=joint.key
        )


KIND = JointKind(
    key="tenon",
    title="Tenon",
    slot="Mortise",
    depth="needed",
    cuts=_cuts,
    read=_read,
    cut_to_depth=False,
    cautions=("tenon_at_saw", "mortise"),
)
