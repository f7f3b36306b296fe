"""Positions of faces in numbers, found fast: the engine's forms without the forms.

Most of a plan's equations say how far one face is from another, so faces are first
gathered in groups that are rigid by those alone; what says more than that is
eliminated exactly between the groups, of which there are few.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from projects.engine.fit.elimination import Elimination
from projects.engine.fit.equations import Input, difference, structure, wanted
from projects.engine.plan.records import AXES, Face, Plan

Row = dict[Face, Fraction]
ZERO = Fraction(0)


class Positions:
    """Hold what a plan says of where faces are, and take more.

    What contradicts the plan before it is not taken: structure first, then wanted
    distances by rank. Raises `PlanError` where it is too much to work out.
    """

    def __init__(self, plan: Plan, values: Mapping[Input, Fraction]) -> None:
        self._up: dict[Face, tuple[Face, Fraction]] = {
            face: (face, ZERO)
            for part in plan.parts
            for axis in AXES
            for face in part.faces_on(axis)
        }
        self._between: Elimination[Face] = Elimination()
        self._said: list[Fraction] = []
        self._known: dict[tuple[Face, Face], Fraction] = {}
        said = [
            (equation.row, values[equation.input] if equation.input else ZERO)
            for equation in structure(plan)
        ]
        while said:
            rest = [(row, mm) for row, mm in said if not self._gather(row, mm)]
            if len(rest) == len(said):
                break
            said = rest
        for row, mm in said:
            self.add(row, mm)
        for _, equation in wanted(plan):
            if equation.input is not None:
                self.add(equation.row, values[equation.input])

    def between(self, start: Face, end: Face) -> Fraction | None:
        """Return how far `end` is from `start` [mm]; None where nothing says."""
        (one, start_mm), (other, end_mm) = self._root(start), self._root(end)
        if one == other:
            return end_mm - start_mm
        if (one, other) not in self._known:
            combination = self._between.express(difference(one, other))
            if combination is None:
                return None
            said = (c * self._said[n] for n, c in combination.items())
            self._known[one, other] = sum(said, ZERO)
        return self._known[one, other] + end_mm - start_mm

    def groups(self, faces: list[Face]) -> dict[Face, int]:
        """Return a number for each face: equal where they are rigid to each other."""
        numbers: dict[object, int] = {}
        by_root: dict[Face, int] = {}
        made = {}
        for face in faces:
            root, _ = self._root(face)
            if root not in by_root:
                rest = self._between.remainder({root: Fraction(1)})
                by_root[root] = numbers.setdefault(rest, len(numbers))
            made[face] = by_root[root]
        return made

    def add(self, row: Mapping[Face, Fraction], mm: Fraction) -> None:
        """Take that the sum `row` is `mm` [mm], unless it is said already."""
        reduced, rest_mm = self._by_group(row, mm)
        if self._between.add(len(self._said), reduced) is None:
            self._said.append(rest_mm)

    def _gather(self, row: Mapping[Face, Fraction], mm: Fraction) -> bool:
        """Make one group of two; False where the row is about more than two."""
        reduced, rest_mm = self._by_group(row, mm)
        if len(reduced) == 2:
            (one, c), (other, d) = reduced.items()
            if c + d:
                return False
            self._up[one] = (other, rest_mm / c)
        return len(reduced) <= 2

    def _by_group(
        self, row: Mapping[Face, Fraction], mm: Fraction
    ) -> tuple[Row, Fraction]:
        """Return a row over the groups' first faces, and what it then equals [mm]."""
        made: Row = {}
        for face, c in row.items():
            root, offset = self._root(face)
            made[root] = made.get(root, ZERO) + c
            mm -= c * offset
        return {face: c for face, c in made.items() if c}, mm

    def _root(self, face: Face) -> tuple[Face, Fraction]:
        """Return the face its group is told by, and how far it is from there [mm]."""
        path = []
        up, offset = self._up[face]
        while up != face:
            path.append((face, offset))
            face = up
            up, offset = self._up[face]
        total = ZERO
        for passed, offset in reversed(path):
            total += offset
            self._up[passed] = (face, total)
        return face, total
