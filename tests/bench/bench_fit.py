"""The dimension engine on a plan of 40 parts and 80 joints, for a class of 30."""

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from itertools import groupby
from operator import attrgetter
from typing import Any, cast

import numpy as np
import sympy

from projects.engine.fit.equations import (
    FaceRow,
    extent,
    fact_equation,
    structure,
    wanted,
)
from projects.engine.fit.many import Sizes, all_sizes, table
from projects.engine.fit.solve import input_values
from projects.engine.fit.system import SizeKey, System, compile_system
from projects.engine.plan.readings import Fact, Instrument, Reading, Readings
from projects.engine.plan.records import DIMENSIONS, Face, Plan
from projects.engine.units import Length
from projects.engine.units.length import UnitSystem
from tests.bench.cabinet import Row, cabinet, class_rows
from tests.bench.registry import bench, ratio

FACTS = (Fact(kind="distance", key="opening"),)


def read_rows(rows: Iterable[Row]) -> list[Readings]:
    """Return each student's readings, as the app makes them from its rows."""
    by_student = groupby(rows, key=attrgetter("student"))
    return [_readings(list(of)) for _, of in by_student]


def _readings(rows: list[Row]) -> Readings:
    points: dict[tuple[str, str], tuple[Reading, ...]] = {}
    facts: dict[Fact, Reading] = {}
    for row in rows:
        length = Length(mm=Fraction(row.mm), unit=cast(UnitSystem, row.unit))
        reading = Reading(length=length, instrument=cast(Instrument, row.instrument))
        if row.kind == "distance":
            facts[Fact(kind="distance", key=row.key)] = reading
        else:
            at = row.kind, row.key
            points[at] = (*points.get(at, ()), reading)
    return Readings(
        stock={key: of for (kind, key), of in points.items() if kind == "stock"},
        parts={key: of for (kind, key), of in points.items() if kind == "part"},
        facts=facts,
    )


def sizes_of_class(system: System, rows: list[Row]) -> list[Sizes]:
    """Return all sizes of every student, from the rows of their readings."""
    return all_sizes(table(system), read_rows(rows))


@bench(
    "fit.class",
    limit=5,
    how="40 parts, 80 joints: reading the rows of 30 students and recomputing all "
    "sizes exactly, over reading the rows and one NumPy product of the same shape",
)
def fit_class() -> float:
    """Compare exact sizes with a product of floats [-]."""
    rows = class_rows()
    system = compile_system(cabinet(), FACTS)
    inputs = {item for form in system.sizes.values() for _, item in form.terms}
    source = np.random.default_rng(2)
    values = source.random((len(read_rows(rows)), len(inputs)))
    coefficients = source.random((len(inputs), len(system.sizes)))

    def product() -> object:
        read_rows(rows)
        return values @ coefficients

    return ratio(lambda: sizes_of_class(system, rows), product, rounds=25)


def _written_out(
    plan: Plan, readings: Readings
) -> tuple[dict[Face, Any], list[Any], int]:
    """Return SymPy's unknowns, the student's equations, and how many are structure."""
    values = input_values(plan, readings)
    first = list(structure(plan))
    equations = [
        *first,
        *(fact_equation(plan, fact) for fact in readings.facts),
        *(equation for _, equation in wanted(plan)),
    ]
    faces = dict.fromkeys(face for equation in equations for face in equation.row)
    at = {face: sympy.Symbol(str(face)) for face in faces}
    written = []
    for equation in equations:
        stated = values[equation.input] if equation.input else Fraction(0)
        written.append(sympy.Add(_written(equation.row, at), -_rational(stated)))
    return at, written, len(first)


def solved_by_the_rule(plan: Plan, readings: Readings) -> dict[SizeKey, Any]:
    """Solve one student's build with SymPy as the plan format says it.

    Facts, then wanted values, each kept where `linsolve` finds that it doesn't
    contradict what is kept.
    """
    at, written, structural = _written_out(plan, readings)
    kept = written[:structural]
    for equation in written[structural:]:
        if sympy.linsolve([*kept, equation], *at.values()):
            kept = [*kept, equation]
    return _sizes(plan, at, kept)


def solved_in_one_pass(plan: Plan, readings: Readings) -> dict[SizeKey, Any]:
    """Solve one student's build with SymPy as fast as we know how.

    The pivots of the transposed matrix are the first independent equations in order,
    so one pass finds which wants give, and `linsolve` solves what is kept.
    """
    at, written, _ = _written_out(plan, readings)
    matrix, _ = sympy.linear_eq_to_matrix(written, *at.values())
    _, kept = matrix.T.rref()
    return _sizes(plan, at, [written[n] for n in kept])


def _sizes(plan: Plan, at: Mapping[Face, Any], kept: list[Any]) -> dict[SizeKey, Any]:
    (found,) = sympy.linsolve(kept, *at.values())
    position = dict(zip(at, found, strict=True))
    return {
        (part.key, dimension): _written(extent(plan, part, dimension), position)
        for part in plan.parts
        for dimension in DIMENSIONS
    }


def _written(row: FaceRow, at: Mapping[Face, Any]) -> Any:
    return sympy.Add(*(_rational(c) * at[face] for face, c in row.items()))


def _rational(number: Fraction) -> Any:
    return sympy.Rational(number.numerator, number.denominator)


def _times_faster(afresh: Callable[[Plan, Readings], dict[SizeKey, Any]]) -> float:
    """Return SymPy's time for one student over a student's share of ours [-]."""
    plan, everyone = cabinet(), read_rows(class_rows())
    rows = table(compile_system(plan, FACTS))
    theirs, ours = afresh(plan, everyone[0]), all_sizes(rows, everyone)[0]
    if any(theirs[size] != _rational(ours.mm(n)) for n, size in enumerate(rows.sizes)):
        raise ValueError("SymPy's sizes and ours differ")
    for_all = ratio(
        lambda: afresh(plan, everyone[0]), lambda: all_sizes(rows, everyone), rounds=7
    )
    return for_all * len(everyone)


@bench(
    "fit.sympy",
    limit=1000,
    at_least=True,
    how="the same plan: one student solved afresh with SymPy by the plan format's "
    "rule, a linsolve for each fact and wanted value, over one student's share of "
    "recomputing the class",
)
def fit_sympy() -> float:
    """Compare SymPy by the rule with ours [-]."""
    return _times_faster(solved_by_the_rule)


@bench(
    "fit.sympy.once",
    limit=300,
    at_least=True,
    how="the same, with SymPy helped as far as we know how: one rref that finds what "
    "gives, one linsolve",
)
def fit_sympy_once() -> float:
    """Compare SymPy at its fastest with ours [-]."""
    return _times_faster(solved_in_one_pass)
