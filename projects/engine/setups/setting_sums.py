"""The sums behind what is set: sizes, places, depths and widths of slots."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property

from projects.engine.fit.equations import Input
from projects.engine.fit.solve import Solution
from projects.engine.fit.system import (
    Form,
    SizeKey,
    System,
    compile_system,
    pending_distances,
)
from projects.engine.plan.records import Axis, Dimension, Face, Joint, Part
from projects.engine.setups.setting_records import NOTHING, ONE, Extra, Sum


def given(name: str, mm: Fraction) -> Sum:
    """Return a length that the plan gives outright [mm]."""
    return Sum(mm=mm, extras=(Extra(name=name, mm=mm),)) if mm else NOTHING


class Sums:
    """Make the sums of one solved build, each once."""

    def __init__(self, solution: Solution) -> None:
        self.solution = solution
        self.plan = solution.plan
        self._sizes: dict[SizeKey, Sum] = {}
        self._between: dict[tuple[str, Face, Face], Sum | None] = {}

    @cached_property
    def doubtful(self) -> frozenset[str]:
        """The parts logged as cut at what can't be."""
        return frozenset(
            doubt.fact.key
            for doubt in self.solution.in_doubt
            if doubt.fact.kind == "cut" and not doubt.agrees
        )

    def parts_of(self, joint: Joint) -> tuple[Part, Part]:
        """Return a joint's guest and its host."""
        by_key = self.plan.part_by_key
        return by_key[joint.guest.part], by_key[joint.host.part]

    def size(self, part: Part, dimension: Dimension) -> Sum:
        """Return a part's size, its own reading where it is cut."""
        key = (part.key, dimension)
        if key not in self._sizes:
            self._sizes[key] = Sum(
                mm=self.solution.sizes[key],
                form=self.solution.form(key),
                waits=self.solution.system.waiting.get(key, ()),
            )
        return self._sizes[key]

    def between(self, cut: Part, start: Face, end: Face) -> Sum | None:
        """Return how far `end` is from `start`, for a cut on a part."""
        key = (cut.key, start, end)
        if key not in self._between:
            form = self.solution.system.between(start, end)
            self._between[key] = (
                None
                if form is None
                else Sum(
                    mm=form.value(self.solution.values),
                    form=form,
                    waits=self._place_waits(cut, start, end),
                )
            )
        return self._between[key]

    def pair_is_higher(self, part: Part, axis: Axis) -> bool | None:
        """Return whether a part's mirror image lies further up an axis than it does.

        None where the two lie level there, or the plan doesn't say how.
        """
        if part.pair is None:
            return None
        low, high = part.faces_on(axis)
        image, _ = self.plan.part_by_key[part.pair].faces_on(axis)
        gap, own = self.between(part, low, image), self.between(part, low, high)
        # level parts needn't be equally thick, so one of their faces may be a bit off
        if gap is None or own is None or 2 * abs(gap.mm) < own.mm:
            return None
        return gap.mm > 0

    def depth(self, joint: Joint) -> Sum:
        """Return how deep the guest lies in the host."""
        if joint.depth.length is not None:
            item = Input(kind="depth", key=joint.key)
            return Sum(mm=joint.depth.length.mm, form=Form(terms=((ONE, item),)))
        _, host = self.parts_of(joint)
        whole = self.size(host, host.dimension_on(joint.host.axis))
        return whole.times(joint.depth.share or Fraction(0))

    def clearance(self, joint: Joint) -> Sum:
        """Return by how much the slot is wider than what sits in it."""
        return given("clearance", joint.clearance.mm) if joint.clearance else NOTHING

    def over_mean(self, part: Part) -> Sum:
        """Return how much thicker a part is where it is thickest, as slots are cut."""
        points = self.solution.readings.of_part(self.plan, part.key)
        if not points:
            return NOTHING
        mean = self.size(part, "thickness")
        over_mm = max(point.length.mm for point in points) - mean.mm
        return given("thickest reading over the mean", over_mm)

    @cached_property
    def _ahead(self) -> System | None:
        """The system once every dry-fit distance is measured; None if all are."""
        facts = self.solution.system.facts
        pending = pending_distances(self.plan, facts)
        return compile_system(self.plan, pending + facts) if pending else None

    def _place_waits(self, cut: Part, start: Face, end: Face) -> tuple[str, ...]:
        by_key = self.plan.distance_by_key
        keys = [
            key
            for key in self.solution.waiting_for
            if cut.key in (by_key[key].fits or (cut.key,))
        ]
        form = self._ahead.between(start, end) if keys and self._ahead else None
        if form is None:
            return ()
        return tuple(
            key for key in keys if form.coefficient(Input(kind="measured", key=key))
        )
