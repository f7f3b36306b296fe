"""Random plans, solved as lexicographic linear programs by HiGHS, print the same.

SciPy 1.17, `scipy.optimize.linprog(method="highs")`: floating point, and by its own
route: structure holds, then one fact or want after the other has its slack made as
small as those before it allow.
"""

import numpy as np
import pytest
from scipy.optimize import linprog

from projects.engine.errors import EngineError
from projects.engine.report import length_data
from tests.engine.builds import solved
from tests.engine.random_plans import random_build
from tests.published import by_the_page as page
from tests.published.by_the_page import Data, Line, Side

SEEDS = range(70, 130)
INFEASIBLE = 2
CLOSE_IN = 1e-7
HALF_DIGIT_IN = 0.5e-5


class Program:
    """Face positions in inches, with the slacks found so far held."""

    def __init__(self, plan: Data, structure: list[Line]) -> None:
        self.place = {face: n for n, face in enumerate(page.faces(plan))}
        self.closes = True
        self.rows = [self.row(line) for line in structure]
        self.inches = [float(line.mm / page.INCH_MM) for line in structure]

    def row(self, line: Line) -> np.ndarray:
        row = np.zeros(len(self.place))
        for coefficient, face in line.side:
            row[self.place[face]] += float(coefficient)
        return row

    def hold(self, line: Line) -> float:
        """Make the slack of one equation least, as far as those held allow."""
        row, wanted = self.row(line), float(line.mm / page.INCH_MM)
        # row @ x + under - over = wanted, and the least of under + over
        held = np.column_stack([np.array(self.rows), np.zeros((len(self.rows), 2))])
        found = linprog(
            [0.0] * len(row) + [1.0, 1.0],
            A_eq=np.vstack([held, [*row, 1.0, -1.0]]),
            b_eq=[*self.inches, wanted],
            bounds=[(None, None)] * len(row) + [(0, None)] * 2,
            method="highs",
        )
        self.closes = found.status != INFEASIBLE
        if not self.closes:
            return 0.0
        assert found.status == 0, found.message
        self.positions = found.x[:-2]
        self.rows.append(row)
        self.inches.append(float(row @ self.positions))
        return float(found.fun)

    def inches_of(self, side: Side) -> float:
        """Return what a sum of positions comes out as."""
        return float(sum(float(c) * self.positions[self.place[f]] for c, f in side))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_printed_sizes(seed):
    plan, readings = random_build(seed)
    program = Program(plan, page.structure(plan, readings))
    facts, wanted = page.facts(plan, readings), page.wanted(plan)
    slacks = [program.hold(line) for line in (*facts, *wanted) if program.closes]
    if not program.closes:
        with pytest.raises(EngineError, match="contradicts itself"):
            solved(plan, readings)
        return
    sizes = {s: program.inches_of(side) for s, side in page.extents(plan).items()}
    cut = [tuple(name.split(".")) for name in readings["cut"]]
    theirs = {size: inches for size, inches in sizes.items() if size not in cut}
    if min(theirs.values()) <= CLOSE_IN:
        with pytest.raises(EngineError, match="must be above 0"):
            solved(plan, readings)
        return

    ours = solved(plan, readings)

    for size, mm in ours.sizes.items():
        printed = float(length_data(mm)["in"])
        assert size in cut or abs(printed - theirs[size]) <= HALF_DIGIT_IN + CLOSE_IN
    doubts = {str(d.fact): d.off_mm for d in ours.in_doubt}
    off_mm = [doubts.get(line.name) for line in facts]
    off_mm += [ours.gives_mm(line.name) for line in wanted]
    for off, slack_in in zip(off_mm, slacks, strict=True):
        assert abs(abs(float((off or 0) / page.INCH_MM)) - slack_in) <= CLOSE_IN
