"""Group wanted settings into the fewest setups that serve them all.

A wish is a box: for each quantity of a setup (stop, height, width) the least and the
most that still serves. One setup serves a group of wishes where their boxes have a
point in common, which they have as soon as every two of them do (Helly's theorem for
boxes). So the fewest setups are a smallest cover of the wishes by points. With one
quantity that is the classic piercing of intervals, which a sweep solves; with more it
is hard in general, and a search with bounds proves its answer for class sizes.

Source of the sweep: T. Cormen and others, Introduction to Algorithms, 3rd edition,
exercise 16.2-5 (from memory); of the rest: own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import Generic, TypeVar

from projects.engine.errors import EngineError

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Tolerance:
    """Say how far under and over [mm] what is wanted a setup may be.

    Raises `EngineError` for one below 0.
    """

    under_mm: Fraction
    over_mm: Fraction

    def __post_init__(self) -> None:
        if self.under_mm < 0 or self.over_mm < 0:
            raise EngineError("a tolerance can't be below 0")


@dataclass(frozen=True, kw_only=True)
class Wish(Generic[T]):
    """Hold what `who` wants of a setup, each quantity [mm], and how near it must be."""

    who: T
    wanted: tuple[Fraction, ...]
    within: tuple[Tolerance, ...]


@dataclass(frozen=True, kw_only=True)
class Group(Generic[T]):
    """Hold one setup: `at` [mm], each quantity, within the limits of every wish."""

    at: tuple[Fraction, ...]
    wishes: tuple[Wish[T], ...]


Box = tuple[tuple[int, int], ...]
"""For each quantity the most and the least, as whole numbers of one small unit."""


def fewest_groups(wishes: Sequence[Wish[T]]) -> tuple[Group[T], ...]:
    """Return the fewest groups such that one setup serves each; exact.

    The same wishes in any order give the same groups. With one quantity it takes
    n log n; with more, exponential time at worst, milliseconds for a class.
    """
    unit = _unit(wishes)
    boxes: dict[Box, list[Wish[T]]] = {}
    for wish in wishes:
        boxes.setdefault(_box(wish, unit), []).append(wish)
    ordered = sorted(boxes)
    if not ordered:
        return ()
    if len(ordered[0]) == 1:
        found = list(_swept(ordered))
    else:
        found = [group for cluster in _clusters(ordered) for group in _covered(cluster)]
    return tuple(
        Group(
            at=_at(group, boxes, unit),
            wishes=tuple(wish for box in group for wish in boxes[box]),
        )
        for group in found
    )


def _unit(wishes: Sequence[Wish[T]]) -> int:
    """Return into how many parts a millimetre is divided, so that all is whole."""
    around = {tolerance for wish in wishes for tolerance in wish.within}
    return lcm(
        *(mm.denominator for wish in wishes for mm in wish.wanted),
        *(t.under_mm.denominator for t in around),
        *(t.over_mm.denominator for t in around),
    )


def _whole(mm: Fraction, unit: int) -> int:
    return mm.numerator * (unit // mm.denominator)


def _box(wish: Wish[T], unit: int) -> Box:
    """Return the limits as whole numbers: as exact as fractions, and quicker."""
    made = []
    for mm, tolerance in zip(wish.wanted, wish.within, strict=True):
        at = _whole(mm, unit)
        most = at + _whole(tolerance.over_mm, unit)
        made.append((most, at - _whole(tolerance.under_mm, unit)))
    return tuple(made)


def _swept(ordered: Sequence[Box]) -> Iterator[list[Box]]:
    """Give the groups of intervals sorted by their right ends.

    The first right end has to be pierced somewhere, and nowhere better than there.
    """
    left = list(ordered)
    while left:
        end = left[0][0][0]
        yield [box for box in left if box[0][1] <= end]
        left = [box for box in left if box[0][1] > end]


def _clusters(ordered: Sequence[Box]) -> list[list[Box]]:
    """Return the boxes in sets that have nothing in common with each other."""
    clusters: list[list[Box]] = []
    for box in ordered:
        near = [c for c in clusters if any(_meet(box, other) for other in c)]
        clusters = [c for c in clusters if c not in near]
        clusters.append(sorted([box, *(other for c in near for other in c)]))
    return sorted(clusters)


def _meet(one: Box, other: Box) -> bool:
    return all(
        low <= other_high and other_low <= high
        for (high, low), (other_high, other_low) in zip(one, other, strict=True)
    )


def _covered(ordered: Sequence[Box]) -> list[list[Box]]:
    """Return a smallest cover by cliques; each box stays in the first that has it."""
    everybody = (1 << len(ordered)) - 1
    cliques = _cliques(ordered, everybody, axis=0)
    found, left = [], everybody
    for clique in _smallest(everybody, sorted(cliques, reverse=True)):
        here = clique & left
        left &= ~clique
        found.append([box for n, box in enumerate(ordered) if here >> n & 1])
    return found


def _cliques(ordered: Sequence[Box], among: int, axis: int) -> set[int]:
    """Return the sets (as bits) of boxes with a point in common, the largest ones.

    A set that can't grow has its point at a right end on each axis.
    """
    if axis == len(ordered[0]):
        return {among}
    sides = [(n, *ordered[n][axis]) for n in range(len(ordered)) if among >> n & 1]
    active = {
        sum(1 << n for n, high, low in sides if low <= end <= high)
        for end in {high for _, high, _ in sides}
    }
    deeper = (_cliques(ordered, one, axis + 1) for one in _largest(active))
    return _largest({clique for found in deeper for clique in found})


def _largest(sets: set[int]) -> set[int]:
    """Leave out the sets that lie in another one."""
    kept: list[int] = []
    for one in sorted(sets, key=int.bit_count, reverse=True):
        if not any(one & other == one for other in kept):
            kept.append(one)
    return set(kept)


def _smallest(everybody: int, cliques: Sequence[int]) -> list[int]:
    """Return the fewest cliques that cover everybody, by branch and bound."""
    best = _greedy(everybody, cliques)

    def search(left: int, taken: list[int]) -> None:
        nonlocal best
        if not left:
            best = list(taken)
            return
        if len(taken) + _apart(left, cliques) >= len(best):
            return
        # the wish with the fewest choices has to be served by one of them
        hardest = min(_bits(left), key=lambda bit: sum(1 for c in cliques if c & bit))
        choices = [clique for clique in cliques if clique & hardest]
        for clique in sorted(choices, key=lambda c: -(c & left).bit_count()):
            search(left & ~clique, [*taken, clique])

    search(everybody, [])
    return best


def _greedy(everybody: int, cliques: Sequence[int]) -> list[int]:
    taken, left = [], everybody
    while left:
        taken.append(max(cliques, key=lambda clique: (clique & left).bit_count()))
        left &= ~taken[-1]
    return taken


def _apart(left: int, cliques: Sequence[int]) -> int:
    """Return how many wishes no two of which share a clique; a lower bound."""
    count = 0
    for bit in _bits(left):
        if bit & left:
            count += 1
            for clique in cliques:
                if clique & bit:
                    left &= ~clique
    return count


def _bits(among: int) -> Iterator[int]:
    while among:
        bit = among & -among
        yield bit
        among ^= bit


def _at(
    group: Sequence[Box], boxes: Mapping[Box, Sequence[Wish[T]]], unit: int
) -> tuple[Fraction, ...]:
    """Return what most of a group's wishes want, or what lies between their limits."""
    at = []
    for axis in range(len(group[0])):
        low = max(box[axis][1] for box in group)
        high = min(box[axis][0] for box in group)
        wanted = Counter(w.wanted[axis] for box in group for w in boxes[box])
        middle = Fraction(low + high, 2 * unit)
        fitting = [mm for mm in wanted if low <= _whole(mm, unit) <= high]
        turns = {mm: (-wanted[mm], abs(mm - middle), mm) for mm in fitting}
        at.append(min(fitting, key=turns.__getitem__) if fitting else middle)
    return tuple(at)
