"""Measuring a dry assembly: where to hold the tape, what follows, and is it square."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import Literal

from projects.engine.errors import EngineError
from projects.engine.fit.advice import SPREAD_IN, missing_end
from projects.engine.fit.solve import Solution, fact_input
from projects.engine.fit.system import Form, compile_system, pending_distances
from projects.engine.plan.readings import Fact, Reading
from projects.engine.plan.records import (
    DIMENSIONS,
    Dimension,
    Distance,
    FaceName,
    Part,
    Plan,
)
from projects.engine.units import mm_per


@dataclass(frozen=True, kw_only=True)
class FittedSize:
    """Hold a size that is cut to a measurement: `mm` [mm], and the sum it is.

    While nothing was measured `mm` is what is expected. `added_mm` [mm] is what comes
    to the measurement, such as the depths of the joints at both ends.
    """

    part: Part
    dimension: Dimension
    form: Form
    mm: Fraction
    added_mm: Fraction


@dataclass(frozen=True, kw_only=True)
class DryMeasure:
    """Hold one distance to measure on the dry assembly.

    It is measured at two ends of the part `along`, at its faces `ends`: there the
    joints hold the parts where they belong, while in the middle a board may be bowed.
    `is_measured` tells whether it was, `points` what was read at which end (empty where
    one value stands for both), `missing_end` which end is still to be measured.
    """

    distance: Distance
    along: Part
    ends: tuple[FaceName, FaceName]
    is_measured: bool
    points: tuple[Reading, ...]
    missing_end: int | None
    fitted: tuple[FittedSize, ...]

    @property
    def is_complete(self) -> bool:
        """Whether it was measured, and at both ends."""
        return self.is_measured and self.missing_end is None

    @property
    def apart_mm(self) -> Fraction:
        """How far apart the two ends are [mm]; 0 while only one was measured."""
        lengths = [point.length.mm for point in self.points]
        return max(lengths) - min(lengths) if lengths else Fraction(0)


def dry_measures(solution: Solution) -> tuple[DryMeasure, ...]:
    """Return what is measured on the dry assembly, in the plan's order."""
    return tuple(
        _measure(solution, distance)
        for distance in solution.plan.distances
        if distance.dry_fit
    )


def ends_of(plan: Plan, distance: Distance) -> tuple[Part, tuple[FaceName, FaceName]]:
    """Return the part that a distance is measured along, and its faces at both ends."""
    along = plan.part_by_key[distance.start.part]
    dimension: Dimension = "length"
    if along.axes["length"] == distance.start.axis:
        dimension = "width"
    low, high = along.faces_on(along.axes[dimension])
    return along, (low.name, high.name)


def _measure(solution: Solution, distance: Distance) -> DryMeasure:
    along, ends = ends_of(solution.plan, distance)
    readings, key = solution.readings, distance.key
    return DryMeasure(
        distance=distance,
        along=along,
        ends=ends,
        is_measured=Fact(kind="distance", key=key) in readings.facts,
        points=readings.distance_points.get(key, ()),
        missing_end=missing_end(key, readings),
        fitted=tuple(_fitted(solution, distance)),
    )


def _fitted(solution: Solution, distance: Distance) -> Iterator[FittedSize]:
    """Give the sizes whose sum holds the measurement, of the parts it fits."""
    plan, facts = solution.plan, tuple(solution.readings.facts)
    fact = Fact(kind="distance", key=distance.key)
    # believed first, so that a part cut to it since still shows what it was cut to
    first = tuple(found for found in facts if found == fact)
    others = tuple(found for found in facts if found != fact)
    pending = pending_distances(plan, facts)
    ahead = compile_system(plan, (*pending, *first, *others))
    measured = fact_input(fact)
    # what isn't measured yet stands at what it is expected to be
    expected = {
        fact_input(Fact(kind="distance", key=d.key)): solution.distances[d.key]
        for d in plan.distances
        if d.dry_fit
    }
    values = {
        **{item: mm for item, mm in expected.items() if mm is not None},
        **solution.values,
    }
    for part in plan.parts:
        if distance.fits and part.key not in distance.fits:
            continue
        for dimension in DIMENSIONS:
            form = ahead.sizes[part.key, dimension]
            if form.coefficient(measured):
                yield FittedSize(
                    part=part,
                    dimension=dimension,
                    form=form,
                    mm=form.value(values),
                    added_mm=form.value(values) - values[measured],
                )


@dataclass(frozen=True, kw_only=True)
class Skew:
    """Hold how far out of square a frame is, from its two diagonals [mm].

    One corner leans by `lean_mm` [mm] over the height; both diagonals are
    `square_mm` [mm] long once it is square, so the `longer` has to give
    `pull_mm` [mm].
    """

    longer: Literal["first", "second", "neither"]
    lean_mm: Fraction
    square_mm: float
    pull_mm: float


def skew(*, first_mm: Fraction, second_mm: Fraction, width_mm: Fraction) -> Skew:
    """Return how far out of square a frame of four sides is.

    `first_mm` and `second_mm` [mm] are its diagonals, `width_mm` [mm] its width across;
    opposite sides are taken as equally long. Clamp across the longer diagonal until
    both are alike. Raises `EngineError` for lengths that make no such frame.

    Source: the law of cosines on both diagonals of a parallelogram: d1^2 - d2^2 is four
    times the width times the lean, and d1^2 + d2^2 the same square or not.
    """
    if min(first_mm, second_mm, width_mm) <= 0:
        raise EngineError("diagonals and width must be above 0")
    lean_mm = abs(first_mm**2 - second_mm**2) / (4 * width_mm)
    square_mm = sqrt((first_mm**2 + second_mm**2) / 2)
    if width_mm >= square_mm:
        raise EngineError("the diagonals must be longer than the width")
    if first_mm == second_mm:
        longer: Literal["first", "second", "neither"] = "neither"
    else:
        longer = "first" if first_mm > second_mm else "second"
    return Skew(
        longer=longer,
        lean_mm=lean_mm,
        square_mm=square_mm,
        pull_mm=float(max(first_mm, second_mm)) - square_mm,
    )


def ends_differ(first_mm: Fraction, second_mm: Fraction) -> bool:
    """Tell whether two ends [mm] are further apart than goes unsaid: 1/32 in."""
    return abs(first_mm - second_mm) > SPREAD_IN * mm_per("in")
