"""A trial build of a draft: what follows from readings somebody typed, kept nowhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution, Term, solve
from projects.engine.fit.system import SizeKey
from projects.engine.plan.readings import Fact, Reading, Readings
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.engine.units import Length, Shown, exact_number, mm_per, read_length
from projects.present.build_page import DistanceLine, distance_lines
from projects.present.drawings import length_text
from projects.present.step_numbers import PartNumbers, part_numbers
from projects.showing import Showing
from projects.words import words

MOST_TYPED = 40


@dataclass(frozen=True, kw_only=True)
class TrialField:
    """One reading to type: a stock's thickness, or a distance of the dry fit.

    `length` is what could be read of what was `typed`, None where nothing could.
    """

    key: str
    name: str
    planned: str
    typed: str
    length: Length | None
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
class TrialStep:
    """One step with the numbers that it would be done to."""

    number: int
    title: str
    parts: tuple[PartNumbers, ...]


@dataclass(frozen=True, kw_only=True)
class Trial:
    """A trial build; `solution` is None where it can't be built so, `why` says it."""

    stock: tuple[TrialField, ...]
    dry_fits: tuple[TrialField, ...]
    parts: tuple[TrialPart, ...]
    distances: tuple[DistanceLine, ...]
    steps: tuple[TrialStep, ...]
    solution: Solution | None
    why: str


def trial(planned: Solution, typed: Mapping[str, str], showing: Showing) -> Trial:
    """Return the plan built by what was typed.

    `t-KEY` is how thick a stock is, `d-KEY` how long a distance of the dry fit.
    """
    plan = planned.plan
    stock = tuple(_stock(plan, typed))
    dry_fits = tuple(_dry_fits(planned, typed, showing))
    read = _readings(stock, dry_fits)
    solution: Solution | None = planned
    why = ""
    if read != Readings():
        try:
            solution = solve(plan, read)
        except EngineError as error:
            solution, why = None, words(error)
    return Trial(
        stock=stock,
        dry_fits=dry_fits,
        parts=_parts(planned, solution, showing) if solution else (),
        distances=distance_lines(solution, showing) if solution else (),
        steps=tuple(_steps(solution, showing)) if solution else (),
        solution=solution,
        why=why,
    )


def _stock(plan: Plan, typed: Mapping[str, str]) -> Iterator[TrialField]:
    for stock in plan.stock:
        unit = stock.thickness.unit
        planned = f"{exact_number(stock.thickness.mm / mm_per(unit))} {unit}"
        text = typed.get(f"t-{stock.key}", "")
        yield _field(plan, stock.key, stock.name, planned, text)


def _dry_fits(
    planned: Solution, typed: Mapping[str, str], showing: Showing
) -> Iterator[TrialField]:
    plan = planned.plan
    for distance in plan.distances:
        mm = planned.distances[distance.key]
        if distance.dry_fit and mm is not None:
            text = typed.get(f"d-{distance.key}", "")
            shown = length_text(mm, showing)
            yield _field(plan, distance.key, distance.name, shown, text)


def _field(plan: Plan, key: str, name: str, planned: str, typed: str) -> TrialField:
    text, why, length = typed[:MOST_TYPED].strip(), "", None
    if text:
        try:
            length = read_length(text, unit=plan.units, field=name)
        except EngineError as error:
            why = words(error)
    return TrialField(
        key=key, name=name, planned=planned, typed=text, length=length, error=why
    )


def _readings(stock: Sequence[TrialField], dry_fits: Sequence[TrialField]) -> Readings:
    """Return what was typed and could be read."""
    return Readings(
        stock={
            field.key: (Reading(length=field.length, instrument="caliper"),)
            for field in stock
            if field.length
        },
        facts={
            Fact(kind="distance", key=field.key): Reading(length=field.length)
            for field in dry_fits
            if field.length
        },
    )


def _parts(
    planned: Solution, tried: Solution, showing: Showing
) -> tuple[TrialPart, ...]:
    return tuple(
        TrialPart(
            name=part.name,
            count=part.count,
            sizes=tuple(
                _size(planned, tried, (part.key, dimension), showing)
                for dimension in DIMENSIONS
            ),
        )
        for part in tried.plan.parts
    )


def _steps(tried: Solution, showing: Showing) -> Iterator[TrialStep]:
    """Give each step, those of the plan or those its joints suggest."""
    for number, step in enumerate(adapters.steps_of(tried.plan), start=1):
        parts = part_numbers(tried, step, showing, not_yet="")
        yield TrialStep(number=number, title=step.title, parts=parts)


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
