"""What was measured: instruments, readings, and the readings file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal, cast

from projects.engine.errors import EngineError, PlanError, ReadingError, raise_all
from projects.engine.plan.fields import Fields, brief, read_any_length
from projects.engine.plan.json_text import parse
from projects.engine.plan.records import Dimension, Plan
from projects.engine.units import Length, mm_per

Instrument = Literal["tape", "caliper"]
INSTRUMENTS: tuple[Instrument, ...] = ("tape", "caliper")
CALIPER_IN = Fraction(1, 1000)
MOST_POINTS = 100


@dataclass(frozen=True, kw_only=True)
class Reading:
    """Hold one measured length, what it was measured with, and at which point."""

    length: Length
    instrument: Instrument = "tape"
    point: int = 1

    def half_width_mm(self, *, tape: int) -> Fraction:
        """Return how far the true length can lie from the reading, either way [mm].

        A tape is read to its nearest mark, so it is off by at most half the space
        between two marks, `tape` of them to the inch. A caliper is taken at the
        0.001 in that shop calipers are made to.

        Source: JCGM 100:2008 (GUM), F.2.2.1, for half the resolution; the 0.001 in
        is common practice, no source.
        """
        inches = CALIPER_IN if self.instrument == "caliper" else Fraction(1, 2 * tape)
        return inches * mm_per("in")


@dataclass(frozen=True, kw_only=True)
class Fact:
    """Name a measured quantity: a distance, or a part's length or width as cut."""

    kind: Literal["distance", "cut"]
    key: str
    dimension: Dimension | None = None

    def __str__(self) -> str:
        return self.key if self.dimension is None else f"{self.key}.{self.dimension}"


@dataclass(frozen=True, kw_only=True)
class Readings:
    """Hold all that was measured for one build.

    `stock` and `parts` map a key to the thickness readings of a stock or of one
    part; `facts` maps a fact to its reading, the one believed first standing first.
    `distance_points` maps a distance to what was read at each of its ends: where it
    has any, the distance's fact is their `mean_of`.
    """

    stock: Mapping[str, tuple[Reading, ...]] = field(default_factory=dict)
    parts: Mapping[str, tuple[Reading, ...]] = field(default_factory=dict)
    facts: Mapping[Fact, Reading] = field(default_factory=dict)
    distance_points: Mapping[str, tuple[Reading, ...]] = field(default_factory=dict)

    def of_part(self, plan: Plan, part: str) -> tuple[Reading, ...]:
        """Return the readings that count for a part: its own, else its stock's."""
        own = self.parts.get(part, ())
        return own or self.stock.get(plan.part_by_key[part].stock, ())


def mean_of(points: tuple[Reading, ...]) -> Reading:
    """Return the exact mean of `points`, as taken with the coarsest instrument.

    It is said in the unit of the first. Two ends of one distance needn't err
    independently, so the mean is held to be no surer than the coarser of them.
    """
    mean_mm = sum((point.length.mm for point in points), Fraction(0)) / len(points)
    by_tape = any(point.instrument == "tape" for point in points)
    return Reading(
        length=Length(mm=mean_mm, unit=points[0].length.unit),
        instrument="tape" if by_tape else "caliper",
    )


def read_readings(data: str | bytes, plan: Plan) -> Readings:
    """Return the readings in `data`, a JSON text, checked against `plan`.

    Distances are believed before cut sizes, each in the order of the file. Raises
    `PlanError`, `ReadingError` or `ProblemsError` naming each place.
    """
    errors: list[EngineError] = []
    top = Fields(parse(data, what="readings"), "readings", errors)
    stock = {
        key: _points(value, where, plan, errors)
        for key, where, value in _entries(top, "stock", plan.stock_by_key, "stock")
    }
    parts: dict[str, tuple[Reading, ...]] = {}
    for key, where, value in _entries(top, "parts", plan.part_by_key, "part"):
        entry = Fields(value, where, errors)
        points = entry.need("thickness", lambda v, w: _points(v, w, plan, errors))
        entry.done()
        parts[key] = points or ()
    facts = {}
    for key, where, value in _entries(
        top, "distances", plan.distance_by_key, "distance"
    ):
        facts[Fact(kind="distance", key=key)] = _one(value, where, plan, errors)
    facts |= _cuts(top, plan, errors)
    top.done()
    raise_all(errors)
    return Readings(stock=stock, parts=parts, facts=cast(dict[Fact, Reading], facts))


def _entries(
    top: Fields, name: str, known: Mapping[str, object], what: str
) -> list[tuple[str, str, Any]]:
    top.asked.append(name)
    entry = Fields(top.data.get(name, {}), f"readings.{name}", top.errors)
    found = []
    for key, value in entry.data.items():
        if key in known:
            found.append((key, f"{entry.where}.{key}", value))
        else:
            _unknown(top.errors, entry.where, what, key)
    return found


def _unknown(errors: list[EngineError], where: str, what: str, read: str) -> None:
    errors.append(
        ReadingError(
            "{where}: the plan has no {what} {read}",
            where=where,
            what=what,
            read=brief(read),
        )
    )


def _cuts(
    top: Fields, plan: Plan, errors: list[EngineError]
) -> dict[Fact, Reading | None]:
    top.asked.append("cut")
    entry = Fields(top.data.get("cut", {}), "readings.cut", errors)
    facts = {}
    for name, value in entry.data.items():
        part, _, dimension = name.partition(".")
        if part not in plan.part_by_key or dimension not in ("length", "width"):
            _unknown(errors, entry.where, "part.length or part.width", name)
            continue
        fact = Fact(kind="cut", key=part, dimension=cast(Dimension, dimension))
        facts[fact] = _one(value, f"{entry.where}.{name}", plan, errors)
    return facts


def _one(
    value: Any, where: str, plan: Plan, errors: list[EngineError]
) -> Reading | None:
    try:
        return Reading(length=read_any_length(value, where, plan.units))
    except EngineError as error:
        errors.append(error)
        return None


def _points(
    value: Any, where: str, plan: Plan, errors: list[EngineError]
) -> tuple[Reading, ...]:
    if not isinstance(value, list) or not 1 <= len(value) <= MOST_POINTS:
        errors.append(
            PlanError(
                "{where}: expected a list of 1 to {most} readings (read: {read})",
                where=where,
                most=MOST_POINTS,
                read=brief(value),
            )
        )
        return ()
    read = [_one(v, f"{where}[{n}]", plan, errors) for n, v in enumerate(value)]
    return tuple(reading for reading in read if reading is not None)
