"""Measuring a dry assembly: where to hold the tape, and what follows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.fit.advice import ENDS, SPREAD_IN, missing_end
from projects.engine.fit.solve import Solution, fact_input
from projects.engine.fit.squareness import Frame, frame_of
from projects.engine.fit.system import Form, compile_system, pending_distances
from projects.engine.plan.readings import Fact, Reading
from projects.engine.plan.records import (
    DIMENSIONS,
    FACES,
    Axis,
    Dimension,
    Distance,
    FaceName,
    Part,
    Plan,
)
from projects.engine.units import mm_per

NEAR_AN_END = Fraction(1, 3)
"""Up to which share of the way from an end a part sits at that end [-].

Source: common practice, no source.
"""


@dataclass(frozen=True, kw_only=True)
class FittedSize:
    """Hold a size that is cut to a measurement: `mm` [mm], and the sum it is.

    While nothing was measured `mm` is what is expected. `added_mm` [mm] is what comes
    to the measurement, such as the depths of the joints at both ends.

    `near_end` is the end, 1 or 2, that the part sits at on the assembly; None where it
    lies between them. `near_mm` [mm] is the size by what was read there alone, once
    both ends were.
    """

    part: Part
    dimension: Dimension
    form: Form
    mm: Fraction
    added_mm: Fraction
    near_end: int | None
    near_mm: Fraction | None


@dataclass(frozen=True, kw_only=True)
class DryMeasure:
    """Hold one distance to measure on the dry assembly.

    It is measured at two ends of the part `along`, at its faces `ends`: there the
    joints hold the parts where they belong, while in the middle a board may be bowed.
    `is_measured` tells whether it was, `points` what was read at which end (empty where
    one value stands for both), `missing_end` which end is still to be measured. `frame`
    is what its diagonals cross.
    """

    distance: Distance
    along: Part
    ends: tuple[FaceName, FaceName]
    is_measured: bool
    points: tuple[Reading, ...]
    missing_end: int | None
    fitted: tuple[FittedSize, ...]
    frame: Frame

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
    axis = FACES[ends[0]][0]
    fitted = tuple(_fitted(solution, distance, along, axis))
    absent = {size.part.key for size in fitted}
    return DryMeasure(
        distance=distance,
        along=along,
        ends=ends,
        is_measured=Fact(kind="distance", key=key) in readings.facts,
        points=readings.distance_points.get(key, ()),
        missing_end=missing_end(key, readings),
        fitted=fitted,
        frame=frame_of(solution, distance, axis=axis, absent=absent),
    )


def _fitted(
    solution: Solution, distance: Distance, along: Part, axis: Axis
) -> Iterator[FittedSize]:
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
    points = {p.point: p for p in solution.readings.distance_points.get(fact.key, ())}
    for part in plan.parts:
        if distance.fits and part.key not in distance.fits:
            continue
        near = _near_end(solution, part, along, axis)
        # one end alone says nothing yet
        read = points.get(near) if near and len(points) == ENDS else None
        for dimension in DIMENSIONS:
            form = ahead.sizes[part.key, dimension]
            if factor := form.coefficient(measured):
                mm = form.value(values)
                there_mm = read.length.mm - values[measured] if read else None
                yield FittedSize(
                    part=part,
                    dimension=dimension,
                    form=form,
                    mm=mm,
                    added_mm=mm - values[measured],
                    near_end=near,
                    near_mm=None if there_mm is None else mm + factor * there_mm,
                )


def _near_end(solution: Solution, part: Part, along: Part, axis: Axis) -> int | None:
    """Return the end of `along`, 1 or 2, in whose third of it a part's middle lies."""
    (start, end), (low, high) = along.faces_on(axis), part.faces_on(axis)
    forms = [solution.system.between(start, face) for face in (end, low, high)]
    if None in forms:
        return None
    whole_mm, *places_mm = (form.value(solution.values) for form in forms if form)
    share = sum(places_mm) / 2 / whole_mm
    if NEAR_AN_END < share < 1 - NEAR_AN_END:
        return None
    return 1 if share <= NEAR_AN_END else 2


def apart(solution: Solution) -> tuple[Distance, ...]:
    """Return the distances on the dry assembly whose two ends differ much."""
    points = solution.readings.distance_points
    return tuple(
        distance
        for distance in solution.plan.distances
        if distance.dry_fit
        and len(read := points.get(distance.key, ())) == ENDS
        and ends_differ(read[0].length.mm, read[1].length.mm)
    )


def ends_differ(first_mm: Fraction, second_mm: Fraction) -> bool:
    """Tell whether two ends [mm] are further apart than goes unsaid: 1/32 in."""
    return abs(first_mm - second_mm) > SPREAD_IN * mm_per("in")
