"""Work out all sizes of a whole class at once, still exactly.

What the plan alone decides is added up when the table is made. Sizes with the same
sum share one row, its coefficients whole numbers over one denominator; a student's
readings are put over one denominator as well, so that a size is a short sum of
products of whole numbers, which Python adds without rounding or overflow.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from projects.engine.fit.equations import Input
from projects.engine.fit.solve import fact_input, input_values
from projects.engine.fit.system import Form, SizeKey, System
from projects.engine.plan.readings import Fact, Reading, Readings

Ratio = tuple[int, int]


@dataclass(frozen=True, kw_only=True)
class Row:
    """Hold one sum: `constant`, and in `terms` a place and a coefficient each.

    Constant and coefficients are numerators over the table's denominator.
    """

    constant: int
    terms: tuple[tuple[int, int], ...]


@dataclass(frozen=True, kw_only=True)
class Board:
    """Say whose readings make a part's thickness: its own, its stock's, or nobody's."""

    part: str
    stock: str
    nominal: Ratio


@dataclass(frozen=True, kw_only=True)
class Table:
    """Hold a system's sizes ready for whole-number sums.

    A row's places count the thicknesses of `boards`, then `facts`.
    `row_of` gives the row of each of `sizes`.
    """

    boards: tuple[Board, ...]
    facts: tuple[Fact, ...]
    sizes: tuple[SizeKey, ...]
    rows: tuple[Row, ...]
    row_of: tuple[int, ...]
    denominator: int


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """Hold a student's sizes [mm], each row once, over one denominator."""

    table: Table
    numerators: Sequence[int]
    denominator: int

    def mm(self, place: int) -> Fraction:
        """Return the size at `place` in the table's order [mm]."""
        return Fraction(self.numerators[self.table.row_of[place]], self.denominator)


@lru_cache(maxsize=256)
def table(system: System) -> Table:
    """Return the sizes of `system` as rows of whole numbers."""
    forms = {size: _shown_form(system, size) for size in system.sizes}
    fixed = input_values(system.plan, Readings())
    used = dict.fromkeys(item for form in forms.values() for _, item in form.terms)
    thick = [item for item in used if item.kind == "thickness"]
    facts = tuple(fact for fact in system.facts if fact_input(fact) in used)
    place = {item: n for n, item in enumerate([*thick, *map(fact_input, facts)])}
    denominator = (
        math.lcm(
            *(c.denominator for form in forms.values() for c, _ in form.terms),
            *(value.denominator for value in fixed.values()),
        )
        ** 2
    )  # a coefficient times a plan's value
    rows: dict[Row, int] = {}
    row_of = [
        rows.setdefault(_row(form, place, fixed, denominator), len(rows))
        for form in forms.values()
    ]
    return Table(
        boards=tuple(_board(system, item.key, fixed[item]) for item in thick),
        facts=facts,
        sizes=tuple(forms),
        rows=tuple(rows),
        row_of=tuple(row_of),
        denominator=denominator,
    )


def _shown_form(system: System, size: SizeKey) -> Form:
    fact = Fact(kind="cut", key=size[0], dimension=size[1])
    if fact in system.facts:
        return Form(terms=((Fraction(1), fact_input(fact)),))
    return system.sizes[size]


def _row(
    form: Form,
    place: Mapping[Input, int],
    fixed: Mapping[Input, Fraction],
    denominator: int,
) -> Row:
    constant = sum((c * fixed[i] for c, i in form.terms if i not in place), Fraction(0))
    terms = ((place[i], int(c * denominator)) for c, i in form.terms if i in place)
    return Row(constant=int(constant * denominator), terms=tuple(terms))


def _board(system: System, part: str, nominal_mm: Fraction) -> Board:
    stock = system.plan.part_by_key[part].stock
    return Board(part=part, stock=stock, nominal=nominal_mm.as_integer_ratio())


def all_sizes(rows: Table, students: Iterable[Readings]) -> list[Sizes]:
    """Return every size of every student; each has the table's facts among theirs."""
    return [_sizes(rows, readings) for readings in students]


def _sizes(rows: Table, readings: Readings) -> Sizes:
    own = {key: _mean(points) for key, points in readings.parts.items() if points}
    shared = {key: _mean(points) for key, points in readings.stock.items() if points}
    values = [
        own.get(board.part) or shared.get(board.stock) or board.nominal
        for board in rows.boards
    ]
    values += [readings.facts[f].length.mm.as_integer_ratio() for f in rows.facts]
    common = math.lcm(*{bottom for _, bottom in values})
    whole = [top * (common // bottom) for top, bottom in values]
    numerators = [
        sum([c * whole[n] for n, c in row.terms], row.constant * common)
        for row in rows.rows
    ]
    return Sizes(
        table=rows, numerators=numerators, denominator=common * rows.denominator
    )


def _mean(points: Sequence[Reading]) -> Ratio:
    """Return the mean of some readings, not reduced."""
    ratios = [point.length.mm.as_integer_ratio() for point in points]
    common = math.lcm(*[bottom for _, bottom in ratios])
    total = sum([top * (common // bottom) for top, bottom in ratios])
    return total, common * len(points)
