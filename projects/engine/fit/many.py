"""Work out all sizes of a whole class at once, still exactly.

A form's coefficients are put over one denominator when the system is compiled, and
a student's values over one when they are read; a size is then a short sum of
products of whole numbers, which Python adds without rounding or overflow.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from projects.engine.fit.equations import Input
from projects.engine.fit.system import SizeKey, System


@dataclass(frozen=True, kw_only=True)
class Table:
    """Hold a system's sizes ready for whole-number sums.

    `inputs` is the order values are given in; `rows` holds for each size the
    positions and the numerators of its coefficients, all over `denominator`.
    """

    inputs: tuple[Input, ...]
    sizes: tuple[SizeKey, ...]
    rows: tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]
    denominator: int


@lru_cache(maxsize=256)
def table(system: System) -> Table:
    """Return the sizes of `system` as rows of whole numbers."""
    used = {item: None for form in system.sizes.values() for _, item in form.terms}
    place = {item: n for n, item in enumerate(used)}
    denominator = math.lcm(
        *(c.denominator for form in system.sizes.values() for c, _ in form.terms)
    )
    rows = tuple(
        (
            tuple(place[item] for _, item in form.terms),
            tuple(int(c * denominator) for c, _ in form.terms),
        )
        for form in system.sizes.values()
    )
    return Table(
        inputs=tuple(used),
        sizes=tuple(system.sizes),
        rows=rows,
        denominator=denominator,
    )


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """Hold a student's sizes [mm] in the table's order, over one denominator."""

    numerators: Sequence[int]
    denominator: int

    def mm(self, place: int) -> Fraction:
        """Return the size at `place` in the table's order [mm]."""
        return Fraction(self.numerators[place], self.denominator)


def all_sizes(rows: Table, students: Iterable[Mapping[Input, Fraction]]) -> list[Sizes]:
    """Return every size of every student; each gives the value of every input [mm]."""
    made = []
    for values in students:
        given = [values[item] for item in rows.inputs]
        common = math.lcm(*(v.denominator for v in given))
        scaled = [v.numerator * (common // v.denominator) for v in given]
        numerators = [
            sum([c * scaled[n] for n, c in zip(places, coefficients, strict=True)])
            for places, coefficients in rows.rows
        ]
        made.append(Sizes(numerators=numerators, denominator=common * rows.denominator))
    return made
