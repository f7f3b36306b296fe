"""What a joint kind is: the one record each file of this package fills."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from projects.engine.plan.fields import Fields
from projects.engine.plan.records import Depth, FaceName, Joint, Part
from projects.engine.units.length import UnitSystem

TOUCHING = Depth()
DepthRule = Literal["needed", "optional", "none"]


@dataclass(frozen=True, kw_only=True)
class Seat:
    """Hold the solved sizes [mm] that the cuts of one joint are computed from.

    `depth_mm` is how deep the guest lies in the host, `host_extent_mm` the host's
    extent on the joint's axis, `guest_thickest_mm` the guest's thickest reading,
    `guest_across_mm` the guest's extent across both its thickness and the joint.
    `setbacks_mm` says how far inside the host's face the guest's face of that name
    lies, for the faces the kind asks for and the plan fixes.
    """

    depth_mm: Fraction
    clearance_mm: Fraction
    host_extent_mm: Fraction
    host_thickness_mm: Fraction
    guest_thickness_mm: Fraction
    guest_thickest_mm: Fraction
    guest_across_mm: Fraction
    setbacks_mm: Mapping[FaceName, Fraction] = field(default_factory=dict)

    @property
    def slot_mm(self) -> Fraction:
        """The width of a slot for the whole guest [mm]."""
        return self.guest_thickest_mm + self.clearance_mm


@dataclass(frozen=True, kw_only=True)
class Measure:
    """Name one more size of a joint's cuts [mm]."""

    name: str
    mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Inset:
    """Say where a slot starts: `mm` [mm] in from the guest's low face.

    `of` says along what: the guest's thickness, or across both that and the joint.
    """

    of: Literal["thickness", "across"]
    mm: Fraction = Fraction(0)


SLOT_AT_GUEST = (Inset(of="thickness"),)


@dataclass(frozen=True, kw_only=True)
class Cuts:
    """Hold what is cut for one joint.

    `width_mm` and `depth_mm` [mm] are those of the slot in the host (None where
    nothing is cut there), `on_host` and `on_guest` the further sizes of each.
    `insets` say where the slot starts; `blind` that the guest's end does not show
    on the outside of the host.
    """

    width_mm: Fraction | None
    depth_mm: Fraction | None
    on_host: tuple[Measure, ...] = ()
    on_guest: tuple[Measure, ...] = ()
    insets: tuple[Inset, ...] = ()
    blind: bool = False


def _no_details(_fields: Fields, _unit: UnitSystem) -> object:
    return None


def _nothing_to_say(_joint: Joint, _guest: Part, _host: Part) -> Iterable[str]:
    return ()


def _no_setbacks(_joint: Joint) -> tuple[FaceName, ...]:
    return ()


@dataclass(frozen=True, kw_only=True)
class JointKind:
    """Describe one kind of joint to the reader, the solver and the sheets.

    `slot` is what the cut in the host is called ("" where there is none). `depth`
    says whether a plan must give one; `default_depth` stands where it need not.
    `read` reads the fields only this kind has, `check` yields what is wrong with a
    joint's faces, `setbacks` names the faces whose setback it needs, `cuts` computes
    its sizes and may raise `PlanError`.
    `cautions` are keys of `shop.cautions`. Without `cut_to_depth` a measure of its own
    says how deep the slot is cut.
    """

    key: str
    title: str
    slot: str
    depth: DepthRule
    cuts: Callable[[Joint, Seat], Cuts]
    cautions: tuple[str, ...]
    default_depth: Depth = TOUCHING
    cut_to_depth: bool = True
    read: Callable[[Fields, UnitSystem], object] = _no_details
    check: Callable[[Joint, Part, Part], Iterable[str]] = _nothing_to_say
    setbacks: Callable[[Joint], tuple[FaceName, ...]] = _no_setbacks


def plain_slot(_joint: Joint, seat: Seat) -> Cuts:
    """Return the cuts of a slot as wide as the guest and as deep as the joint."""
    return Cuts(width_mm=seat.slot_mm, depth_mm=seat.depth_mm, insets=SLOT_AT_GUEST)
