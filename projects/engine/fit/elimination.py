"""Exact elimination on sparse rows that remembers how each row was made.

Every equation keeps a number. A reduced row carries the combination of equations
it came from, so a dependent equation names its loop and a solved size names its
terms, both without solving again.
"""

from __future__ import annotations

import heapq
from collections.abc import Hashable, Mapping
from fractions import Fraction
from typing import Any, Generic, TypeVar

from projects.engine.errors import PlanError

V = TypeVar("V", bound=Hashable)
MOST_WORK = 500_000
"""How many products one plan may cost [-], a few seconds: see `Elimination`."""

Row = dict[V, Fraction]
Combination = dict[int, Fraction]


class Elimination(Generic[V]):
    """Keep independent rows over unknowns `V`, each with its pivot.

    Adding all rows of a plan with n unknowns costs O(n * r * w) exact operations for
    r rows of mean width w; rows of a plan stay narrow. A plan made to tie every face
    to every other would not, so the work is counted (long numbers count more) and
    `PlanError` is raised above `MOST_WORK`.
    """

    def __init__(self) -> None:
        self._work = 0
        self._rows: list[tuple[V, Row[V], Combination]] = []
        self._order: dict[V, int] = {}

    def copy(self) -> Elimination[V]:
        """Return a copy that can grow without touching this one."""
        made: Elimination[V] = Elimination()
        made._work = self._work
        made._rows = list(self._rows)
        made._order = dict(self._order)
        return made

    def add(self, number: int, row: Mapping[V, Fraction]) -> Combination | None:
        """Keep equation `number` where it is independent of those kept.

        Returns None when kept. Otherwise the combination of kept equations that
        equals the row: it says nothing new about the unknowns.
        """
        rest, used = self._reduce(row)
        if not rest:
            return used
        # the widest-known unknown would do; the first keeps results reproducible
        pivot = next(iter(rest))
        lead = rest[pivot]
        combination = {n: -c / lead for n, c in used.items()}
        combination[number] = combination.get(number, Fraction(0)) + 1 / lead
        self._order[pivot] = len(self._rows)
        self._rows.append((pivot, {v: c / lead for v, c in rest.items()}, combination))
        return None

    def express(self, row: Mapping[V, Fraction]) -> Combination | None:
        """Return `row` as a combination of kept equations, or None if it isn't one."""
        rest, used = self._reduce(row)
        return None if rest else used

    def remainder(self, row: Mapping[V, Fraction]) -> frozenset[tuple[V, Fraction]]:
        """Return what is left of `row`: equal where two rows differ by kept ones."""
        return frozenset(self._reduce(row)[0].items())

    def _reduce(self, row: Mapping[V, Fraction]) -> tuple[Row[V], Combination]:
        rest = {v: c for v, c in row.items() if c}
        used: Combination = {}
        # a kept row holds no pivot of an earlier one, so pivots are met in order
        waiting = [self._order[v] for v in rest if v in self._order]
        heapq.heapify(waiting)
        while waiting:
            pivot, kept, combination = self._rows[heapq.heappop(waiting)]
            factor = rest.get(pivot)
            if factor is None:
                continue
            self._count(factor, kept, combination)
            for unknown, c in kept.items():
                if unknown not in rest and unknown in self._order:
                    heapq.heappush(waiting, self._order[unknown])
                _add(rest, unknown, -factor * c)
            for n, c in combination.items():
                _add(used, n, factor * c)
        return rest, used

    def _count(self, factor: Fraction, *rows: Mapping[Any, Fraction]) -> None:
        for row in rows:
            # long numbers cost more; one of the row stands for its length
            value = next(iter(row.values()), factor)
            bits = _bits(factor) + _bits(value)
            self._work += len(row) * (1 + bits // 64)
        if self._work > MOST_WORK:
            raise PlanError(
                "the plan ties together more faces than can be worked out; take out "
                "joints, distances or even spacing that say the same thing twice"
            )


def _bits(number: Fraction) -> int:
    return number.numerator.bit_length() + number.denominator.bit_length()


def _add(into: dict[V, Fraction], key: V, amount: Fraction) -> None:
    total = into.get(key, 0) + amount
    if total:
        into[key] = Fraction(total)
    else:
        into.pop(key, None)
