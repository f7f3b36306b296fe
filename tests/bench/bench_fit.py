"""The dimension engine on a plan of 40 parts and 80 joints, for a class of 30."""

from collections.abc import Iterable
from fractions import Fraction
from itertools import groupby
from operator import attrgetter
from typing import cast

import numpy as np
from sympy import QQ
from sympy.polys.matrices import DomainMatrix

from projects.engine.fit.equations import fact_equation, structure, wanted
from projects.engine.fit.many import Sizes, all_sizes, table
from projects.engine.fit.solve import input_values
from projects.engine.fit.system import System, compile_system
from projects.engine.plan.readings import Fact, Instrument, Reading, Readings
from projects.engine.plan.records import Plan
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


def sizes_of_class(plan: Plan, system: System, rows: list[Row]) -> list[Sizes]:
    """Return all sizes of every student, from the rows of their readings."""
    values = [input_values(plan, readings) for readings in read_rows(rows)]
    return all_sizes(table(system), values)


@bench(
    "fit.class",
    limit=5,
    how="reading the rows of 30 students and recomputing all their sizes exactly, "
    "over reading the rows and one NumPy product of the same shape",
)
def fit_class() -> float:
    """Compare exact sizes with a product of floats [-]."""
    plan, rows = cabinet(), class_rows()
    system = compile_system(plan, FACTS)
    inputs, sizes = len(table(system).inputs), len(table(system).sizes)
    source = np.random.default_rng(2)
    values = source.random((len(read_rows(rows)), inputs))
    coefficients = source.random((inputs, sizes))

    def product() -> object:
        read_rows(rows)
        return values @ coefficients

    return ratio(lambda: sizes_of_class(plan, system, rows), product, rounds=25)


class Afresh:
    """Solve one student's build with SymPy, from equations with numbers in them."""

    def __init__(self, plan: Plan, readings: Readings) -> None:
        values = input_values(plan, readings)
        equations = [
            *structure(plan),
            *(fact_equation(plan, fact) for fact in readings.facts),
            *(equation for _, equation in wanted(plan)),
        ]
        place = {
            face: n for n, face in enumerate(dict.fromkeys(
                face for equation in equations for face in equation.row))
        }  # fmt: skip
        self.shape = (len(equations), len(place) + 1)
        self.rows = {
            n: {place[face]: _qq(c) for face, c in equation.row.items() if c}
            for n, equation in enumerate(equations)
        }
        for n, equation in enumerate(equations):
            if equation.input is not None:
                self.rows[n][len(place)] = _qq(values[equation.input])

    def solve(self) -> object:
        """Return which equations are kept, and the reduced rows they make.

        The pivots of the transposed rows are the first independent equations in
        order, so one pass finds what gives and a second one solves.
        """
        count, width = self.shape
        sides: dict[int, dict[int, object]] = {}
        for n, row in self.rows.items():
            for face, coefficient in row.items():
                if face != width - 1:
                    sides.setdefault(face, {})[n] = coefficient
        _, kept = DomainMatrix(sides, (width - 1, count), QQ).rref()
        rows = {n: self.rows[of] for n, of in enumerate(kept)}
        return kept, DomainMatrix(rows, (len(kept), width), QQ).rref()


def _qq(number: Fraction) -> object:
    return QQ(number.numerator, number.denominator)


@bench(
    "fit.sympy",
    limit=1000,
    at_least=True,
    how="solving one student afresh with SymPy's sparse rational matrices, over one "
    "student's share of recomputing the class",
)
def fit_sympy() -> float:
    """Compare SymPy's time for one student with ours [-]."""
    plan, rows = cabinet(), class_rows()
    system = compile_system(plan, FACTS)
    everyone = read_rows(rows)
    values = [input_values(plan, readings) for readings in everyone]
    afresh = Afresh(plan, everyone[0])
    forms = table(system)
    for_class = ratio(afresh.solve, lambda: all_sizes(forms, values), rounds=5)
    return for_class * len(everyone)
