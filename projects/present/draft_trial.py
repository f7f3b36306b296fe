"""A trial build of a draft: its sizes with thicknesses somebody typed, kept nowhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution, Term, solve
from projects.engine.fit.system import SizeKey
from projects.engine.plan.readings import Reading, Readings
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.engine.units import Shown, exact_number, mm_per, read_length
from projects.present.build_page import DistanceLine, distance_lines
from projects.showing import Showing
from projects.words import words


@dataclass(frozen=True, kw_only=True)
class TrialStock:
    """One stock to type a thickness of."""

    key: str
    name: str
    planned: str
    typed: str
    error: str


@dataclass(frozen=True, kw_only=True)
class TrialSize:
    """One size: as tried, as planned where that differs, and its sum."""

    dimension: str
    shown: Shown
    planned: Shown | None
    terms: tuple[Term, ...]


@dataclass(frozen=True, kw_only=True)
class TrialPart:
    """One part with its three sizes."""

    name: str
    count: int
    sizes: tuple[TrialSize, ...]


@dataclass(frozen=True, kw_only=True)
class Trial:
    """A trial build; `solution` is None where it can't be built so, `why` says it."""

    stock: tuple[TrialStock, ...]
    parts: tuple[TrialPart, ...]
    distances: tuple[DistanceLine, ...]
    solution: Solution | None
    why: str


def trial(planned: Solution, typed: Mapping[str, str], showing: Showing) -> Trial:
    """Return the plan built of stock as thick as `typed` says, by stock key."""
    plan = planned.plan
    readings, stock = _read(plan, typed)
    solution, why = planned, ""
    if readings:
        try:
            solution = solve(plan, Readings(stock=readings))
        except EngineError as error:
            return Trial(
                stock=stock, parts=(), distances=(), solution=None, why=words(error)
            )
    return Trial(
        stock=stock,
        parts=tuple(
            TrialPart(
                name=part.name,
                count=part.count,
                sizes=tuple(
                    _size(planned, solution, (part.key, dimension), showing)
                    for dimension in DIMENSIONS
                ),
            )
            for part in plan.parts
        ),
        distances=distance_lines(solution, showing),
        solution=solution,
        why=why,
    )


def _read(
    plan: Plan, typed: Mapping[str, str]
) -> tuple[dict[str, tuple[Reading, ...]], tuple[TrialStock, ...]]:
    readings: dict[str, tuple[Reading, ...]] = {}
    lines = []
    for stock in plan.stock:
        text, why = typed.get(stock.key, "").strip(), ""
        if text:
            try:
                length = read_length(text, unit=plan.units, field=stock.name)
                reading = Reading(length=length, instrument="caliper")
                readings[stock.key] = (reading,)
            except EngineError as error:
                why = words(error)
        unit = stock.thickness.unit
        lines.append(
            TrialStock(
                key=stock.key,
                name=stock.name,
                planned=f"{exact_number(stock.thickness.mm / mm_per(unit))} {unit}",
                typed=text,
                error=why,
            )
        )
    return readings, tuple(lines)


def _size(
    planned: Solution, tried: Solution, key: SizeKey, showing: Showing
) -> TrialSize:
    mm, before = tried.sizes[key], planned.sizes[key]
    return TrialSize(
        dimension=key[1],
        shown=showing.of(mm),
        planned=showing.of(before) if before != mm else None,
        terms=tried.terms(tried.form(key)),
    )
