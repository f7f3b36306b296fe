"""Look at a solved piece: extents, overlaps, slots and the wood of each part."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from projects.engine.checks.limits import ShopLimits
from projects.engine.checks.slots import Slot, slot_of
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import AXES, Axis, Face, Joint, Part, Plan, Stock
from projects.engine.units import decimal_text, mm_per, nearest_mark, tape_text
from projects.engine.wood import Species, find_species

FINE_TAPE = 64


@dataclass(frozen=True, kw_only=True, eq=False)
class Look:
    """Hold a solved build beside the limits of the shop that makes it."""

    solution: Solution
    shop: ShopLimits

    @property
    def plan(self) -> Plan:
        """The plan that was solved."""
        return self.solution.plan

    def part(self, face: Face) -> Part:
        """Return the part a face belongs to."""
        return self.plan.part_by_key[face.part]

    def stock(self, part: Part) -> Stock:
        """Return what a part is made of."""
        return self.plan.stock_by_key[part.stock]

    def is_solid(self, part: Part) -> bool:
        """Say whether a part is solid wood."""
        return self.stock(part).kind == "solid"

    def species(self, part: Part) -> Species | None:
        """Return the species of a part of solid wood, where it is known."""
        return find_species(self.stock(part).species) if self.is_solid(part) else None

    def extent_mm(self, part: Part, axis: Axis) -> Fraction:
        """Return how long, wide or thick a part is on an axis [mm]."""
        return self.solution.sizes[part.key, part.dimension_on(axis)]

    def between_mm(self, start: Face, end: Face) -> Fraction | None:
        """Return how far `end` is from `start` [mm]; None where nothing fixes it."""
        form = self.solution.system.between(start, end)
        return None if form is None else form.value(self.solution.values)

    def overlap_mm(self, one: Part, other: Part, axis: Axis) -> Fraction:
        """Return how far two parts lie side by side on an axis [mm], or 0.

        Where nothing fixes one against the other: as far as they can.
        """
        extent_mm, other_mm = self.extent_mm(one, axis), self.extent_mm(other, axis)
        start_mm = self.between_mm(one.faces_on(axis)[0], other.faces_on(axis)[0])
        if start_mm is None:
            return min(extent_mm, other_mm)
        shared_mm = min(extent_mm, start_mm + other_mm) - max(Fraction(0), start_mm)
        return max(Fraction(0), shared_mm)

    def depth_mm(self, joint: Joint) -> Fraction:
        """Return how deep a joint's guest lies in its host [mm]; 0 where it touches."""
        return self.solution.cuts[joint.key].depth_mm or Fraction(0)

    @cached_property
    def slots(self) -> tuple[Slot, ...]:
        """Every slot and mortise, in the plan's order."""
        every = (slot_of(self.solution, joint) for joint in self.plan.joints)
        return tuple(slot for slot in every if slot is not None)

    @cached_property
    def joints_at(self) -> dict[Face, tuple[Joint, ...]]:
        """The joints of every face, as guest or as host."""
        found: dict[Face, tuple[Joint, ...]] = {
            face: ()
            for part in self.plan.parts
            for axis in AXES
            for face in part.faces_on(axis)
        }
        for joint in self.plan.joints:
            for face in (joint.guest, joint.host):
                found[face] += (joint,)
        return found

    @cached_property
    def neighbours(self) -> dict[str, dict[str, tuple[Joint, ...]]]:
        """For each part the parts joined to it, and the joints between them."""
        found: dict[str, dict[str, tuple[Joint, ...]]] = {
            part.key: {} for part in self.plan.parts
        }
        for joint in self.plan.joints:
            ends = joint.guest.part, joint.host.part
            for one, other in (ends, ends[::-1]):
                found[one][other] = (*found[one].get(other, ()), joint)
        return found

    def said(self, mm: Fraction) -> str:
        """Return a length [mm] as the plan's users say it."""
        if self.plan.units == "mm":
            text = decimal_text(mm, 1 if abs(mm) >= 10 else 2)
            return f"{text.rstrip('0').removesuffix('.')} mm"
        mark = nearest_mark(abs(mm), tape=FINE_TAPE)
        sign = "-" if mm < 0 else ""
        if mark.off == "exact":
            return f"{sign}{tape_text(mark)} in"
        return f"{decimal_text(mm / mm_per('in'), 3)} in"


def other_end(joint: Joint, part: Part) -> Face:
    """Return the face at the other end of a joint of `part`."""
    return joint.host if joint.guest.part == part.key else joint.guest
