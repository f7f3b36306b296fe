"""A size as a sum, ready to be read line by line."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from projects.engine.fit.advice import Target, hangs_on
from projects.engine.fit.solve import Solution, Term
from projects.engine.fit.system import Form, SizeKey
from projects.engine.fit.uncertainty import uncertainty
from projects.engine.units import (
    Shown,
    decimal_text,
    exact_number,
    exact_text,
    mm_per,
    nearest_mark,
    tape_text,
)
from projects.engine.units.length import UnitSystem
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class SumLine:
    """One term: `sign` ("" for a leading plus), `times` ("1/2 ×"), value and name.

    `exact` is filled where the value shown is rounded; `readings` where it is a mean.
    """

    sign: str
    times: str
    value: str
    unit: str
    name: str
    exact: str
    readings: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Sum:
    """A size with its sum, its exact value, and how far off it can be."""

    part_name: str
    dimension: str
    lines: tuple[SumLine, ...]
    total: str
    unit: str
    exact: str
    shown: Shown
    inches: str
    mm: str
    worst: str
    spread: str
    waits: tuple[str, ...]
    hangs_on: tuple[str, ...]
    log_target: str
    is_cut: bool


def number_text(mm: Fraction, unit: UnitSystem) -> tuple[str, str]:
    """Return a value short enough for a line, and its exact text where it differs."""
    value = mm / mm_per(unit)
    if unit == "in" and value > 1 and value.denominator in (2, 4, 8, 16, 32, 64):
        return tape_text(nearest_mark(mm, tape=64)), ""
    text = exact_number(value)
    if "/" in text and value.denominator not in (2, 4, 8, 16, 32, 64):
        return decimal_text(value, 5 if unit == "in" else 4), exact_text(mm, unit=unit)
    return text, ""


def size_sum(solution: Solution, size: SizeKey, showing: Showing) -> Sum:
    """Return one size of a part with its sum."""
    plan = solution.plan
    part, dimension = size
    form = solution.form(size)
    mm = solution.sizes[size]
    unit = showing.unit
    total, exact = number_text(mm, unit)
    worst, spread = _off(solution, form, unit)
    waits = solution.system.waiting.get(size, ())
    target = (
        Target(kind="part", key=part)
        if dimension == "thickness"
        else Target(kind="cut", key=part, dimension=dimension)
    )
    return Sum(
        part_name=plan.part_by_key[part].name,
        dimension=dimension,
        lines=term_lines(solution, solution.terms(form), unit),
        total=total,
        unit=unit,
        exact=exact,
        shown=showing.of(mm),
        inches=decimal_text(mm / mm_per("in"), 4),
        mm=decimal_text(mm, 2),
        worst=worst,
        spread=spread,
        waits=tuple(plan.distance_by_key[key].name for key in waits),
        hangs_on=tuple(stock.name for stock in hangs_on(solution, form)),
        log_target=str(target),
        is_cut=any(item.kind == "cut" for _, item in form.terms),
    )


def term_lines(
    solution: Solution, terms: tuple[Term, ...], unit: UnitSystem
) -> tuple[SumLine, ...]:
    """Return the terms of a sum as lines, all in one unit."""
    return tuple(
        _line(solution, term, unit, leading=n == 0) for n, term in enumerate(terms)
    )


def _line(
    solution: Solution, term: Term, unit: UnitSystem, *, leading: bool
) -> SumLine:
    value, exact = number_text(term.mm, unit)
    size = abs(term.coefficient)
    sign = "−" if term.coefficient < 0 else "" if leading else "+"
    return SumLine(
        sign=sign,
        times="" if size == 1 else f"{exact_number(size)} ×",
        value=value,
        unit=unit,
        name=term.name,
        exact=exact,
        readings=_readings(solution, term),
    )


def _readings(solution: Solution, term: Term) -> tuple[str, ...]:
    """Return the readings a thickness is the mean of, each with its unit."""
    if term.item.kind != "thickness":
        return ()
    points = solution.readings.of_part(solution.plan, term.item.key)
    return tuple(
        exact_text(point.length.mm, unit=point.length.unit) for point in points
    )


def _off(solution: Solution, form: Form, unit: UnitSystem) -> tuple[str, str]:
    """Return how far off a size can be at worst, and likely; "" where nobody read."""
    off = uncertainty(solution, form)
    if not off.worst_mm:
        return "", ""
    places = 3 if unit == "in" else 2
    worst = decimal_text(off.worst_mm / mm_per(unit), places)
    spread = decimal_text(Fraction(off.spread_mm) / mm_per(unit), places)
    return worst, spread
