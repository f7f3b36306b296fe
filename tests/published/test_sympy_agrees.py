"""Random plans, solved by SymPy over the rationals, are the same to the last digit.

SymPy 1.14, `sympy.polys.matrices.DomainMatrix` over QQ: exact. The other solution
follows the rule of the plan file word for word: an equation is kept where the
augmented system stays consistent.
"""

from fractions import Fraction
from typing import Any

import pytest
from sympy import QQ
from sympy.polys.matrices import DomainMatrix

from projects.engine.errors import EngineError
from tests.engine.builds import solved
from tests.engine.random_plans import random_build
from tests.published import by_the_page as page
from tests.published.by_the_page import Data, Line, Side

SEEDS = range(150)


def as_fraction(number) -> Fraction:
    """Return one of SymPy's rationals as one of Python's."""
    return Fraction(int(number.numerator), int(number.denominator))


class Positions:
    """Face positions, known as far as the kept equations tell."""

    def __init__(self, plan: Data) -> None:
        self.faces = page.faces(plan)
        self.rows: list[list[Any]] = []
        self.pivots: tuple[int, ...] = ()

    def row(self, side: Side, mm: Fraction) -> list[Any]:
        row = dict.fromkeys(self.faces, Fraction(0))
        for coefficient, face in side:
            row[face] += coefficient
        return [QQ(n.numerator, n.denominator) for n in (*row.values(), mm)]

    def reduced(
        self, side: Side, mm: Fraction
    ) -> tuple[list[list[Any]], tuple[int, ...]]:
        rows = [*self.rows, self.row(side, mm)]
        shape = (len(rows), len(self.faces) + 1)
        matrix, pivots = DomainMatrix(rows, shape, QQ).rref()
        return matrix.to_list()[: len(pivots)], pivots

    def keep(self, line: Line) -> bool:
        """Keep the equation if the system stays consistent; say whether it did."""
        rows, pivots = self.reduced(line.side, line.mm)
        if len(self.faces) in pivots:
            return False
        self.rows, self.pivots = rows, pivots
        return True

    def mm(self, side: Side) -> Fraction:
        """Return what a sum of positions comes out as; it must be known."""
        _, pivots = self.reduced(side, Fraction(0))
        assert set(pivots) - {len(self.faces)} == set(self.pivots), "not known"
        found = {
            self.faces[pivot]: as_fraction(row[-1])
            for pivot, row in zip(self.pivots, self.rows, strict=True)
        }
        return sum((c * found.get(face, Fraction(0)) for c, face in side), Fraction(0))


class Solved:
    """A build, solved as the page says."""

    def __init__(self, plan: Data, readings: Data) -> None:
        positions = Positions(plan)
        structure = [positions.keep(line) for line in page.structure(plan, readings)]
        facts = page.facts(plan, readings)
        refused = [line for line in facts if not positions.keep(line)]
        wanted = page.wanted(plan)
        for line in wanted:
            positions.keep(line)
        self.closes = all(structure)
        # what contradicts may be taken out at the end: what was kept fixed it already
        self.in_doubt = {ln.name: ln.mm - positions.mm(ln.side) for ln in refused}
        self.gives = {ln.name: positions.mm(ln.side) - ln.mm for ln in wanted}
        self.sizes = {s: positions.mm(side) for s, side in page.extents(plan).items()}
        for name, text in readings["cut"].items():
            part, dimension = name.split(".")
            self.sizes[part, dimension] = page.length_mm(text)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_size_and_what_gives_and_what_is_in_doubt(seed):
    plan, readings = random_build(seed)
    theirs = Solved(plan, readings)
    if not theirs.closes or min(theirs.sizes.values()) <= 0:
        wrong = "contradicts itself" if not theirs.closes else "must be above 0"
        with pytest.raises(EngineError, match=wrong):
            solved(plan, readings)
        return

    ours = solved(plan, readings)

    assert ours.sizes == theirs.sizes
    assert {key: ours.gives_mm(key) for key in theirs.gives} == theirs.gives
    assert {str(d.fact): d.off_mm for d in ours.in_doubt} == theirs.in_doubt
    mark_mm = page.INCH_MM / plan["tape"]
    assert {str(d.fact) for d in ours.in_doubt if d.agrees} == {
        name for name, mm in theirs.in_doubt.items() if abs(mm) <= mark_mm
    }


def test_the_random_plans_are_not_all_easy():
    builds = [random_build(seed) for seed in SEEDS]
    outcomes = [Solved(plan, readings) for plan, readings in builds]
    whole = [o for o in outcomes if o.closes and min(o.sizes.values()) > 0]

    assert len(whole) > len(SEEDS) * 3 // 4
    assert sum(bool(o.in_doubt) for o in whole) > len(SEEDS) // 4
    assert sum(any(o.gives.values()) for o in whole) > len(SEEDS) // 2
    assert any(not o.closes for o in outcomes)
