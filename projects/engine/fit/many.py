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
class Table:
    """Hold a system's sizes ready for whole-number sums.

    The values are the thicknesses of `boards` (each a part and its stock, which is
    as thick as `nominal` says where it has no readings), then `facts`. `row_of`
    gives for each of `sizes` a value, or past those one of `rows`.
    """

    boards: tuple[tuple[str, str], ...]
    nominal: Mapping[str, Ratio]
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
    row_of = []
    for form in forms.values():
        row = _row(form, place, fixed, denominator)
        if [c for _, c in row.terms] == [denominator] and not row.constant:
            row_of.append(row.terms[0][0])  # a reading as it is
        else:
            row_of.append(len(place) + rows.setdefault(row, len(rows)))
    plan = system.plan
    return Table(
        boards=tuple((item.key, plan.part_by_key[item.key].stock) for item in thick),
        nominal={s.key: s.thickness.mm.as_integer_ratio() for s in plan.stock},
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


def all_sizes(rows: Table, students: Iterable[Readings]) -> list[Sizes]:
    """Return every size of every student; each has the table's facts among theirs."""
    return [_sizes(rows, readings) for readings in students]


def _sizes(rows: Table, readings: Readings) -> Sizes:
    own = {key: _mean(points) for key, points in readings.parts.items() if points}
    shared = dict(rows.nominal)
    shared |= {key: _mean(points) for key, points in readings.stock.items() if points}
    facts = [readings.facts[fact].length.mm.as_integer_ratio() for fact in rows.facts]
    ratios = (*own.values(), *shared.values(), *facts)
    common = math.lcm(*[bottom for _, bottom in ratios])
    whole_own = {key: top * (common // bottom) for key, (top, bottom) in own.items()}
    whole = {key: top * (common // bottom) for key, (top, bottom) in shared.items()}
    values = [whole_own.get(part) or whole[stock] for part, stock in rows.boards]
    values += [top * (common // bottom) for top, bottom in facts]
    numerators = [value * rows.denominator for value in values]
    numerators += [
        sum([c * values[n] for n, c in row.terms], row.constant * common)
        for row in rows.rows
    ]
    return Sizes(
        table=rows, numerators=numerators, denominator=common * rows.denominator
    )


def _mean(points: Sequence[Reading]) -> Ratio:
    """Return the mean of some readings, not reduced."""
    total, common = 0, 1
    for point in points:
        top, bottom = point.length.mm.as_integer_ratio()
        if bottom != common:
            both = math.lcm(common, bottom)
            total, top, common = total * (both // common), top * (both // bottom), both
        total += top
    return total, common * len(points)
