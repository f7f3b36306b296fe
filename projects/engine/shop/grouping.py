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
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, kw_only=True)
class Wish:
    """Hold what one piece of work wants of a setup, each quantity in its order [mm].

    `least` <= `wanted` <= `most` in each; raises `ValueError` otherwise.
    """

    who: Hashable
    wanted: tuple[Fraction, ...]
    least: tuple[Fraction, ...]
    most: tuple[Fraction, ...]

    def __post_init__(self) -> None:
        for low, value, high in zip(self.least, self.wanted, self.most, strict=True):
            if not low <= value <= high:
                raise ValueError(
                    f"a wish lies between its limits (got {low}, {value}, {high})"
                )


@dataclass(frozen=True, kw_only=True)
class Group:
    """Hold one setup: `at` [mm], each quantity, within the limits of every wish."""

    at: tuple[Fraction, ...]
    wishes: tuple[Wish, ...]


def fewest_groups(wishes: Sequence[Wish]) -> tuple[Group, ...]:
    """Return the fewest groups such that one setup serves each; exact.

    The same wishes in any order give the same groups. With one quantity it takes
    n log n; with more, exponential time at worst, milliseconds for a class.
    """
    ordered = sorted(wishes, key=lambda wish: (wish.most, wish.least, str(wish.who)))
    if not ordered:
        return ()
    if len(ordered[0].wanted) == 1:
        members = list(_swept(ordered))
    else:
        members = [m for cluster in _clusters(ordered) for m in _covered(cluster)]
    return tuple(_group(found) for found in members)


def _clusters(ordered: Sequence[Wish]) -> list[list[Wish]]:
    """Return the wishes in sets that have nothing in common with each other."""
    clusters: list[list[Wish]] = []
    for wish in ordered:
        near = [c for c in clusters if any(_meet(wish, other) for other in c)]
        clusters = [c for c in clusters if c not in near]
        joined = {id(w) for c in near for w in c}
        together = [w for w in ordered if id(w) in joined or w is wish]
        clusters.append(together)
    return sorted(clusters, key=lambda cluster: ordered.index(cluster[0]))


def _meet(one: Wish, other: Wish) -> bool:
    return all(
        a <= d and c <= b
        for a, b, c, d in zip(one.least, one.most, other.least, other.most, strict=True)
    )


def _swept(ordered: Sequence[Wish]) -> Iterator[list[Wish]]:
    """Give the groups of intervals sorted by their right ends.

    The first right end has to be pierced somewhere, and nowhere better than there.
    """
    left = list(ordered)
    while left:
        end = left[0].most[0]
        yield [wish for wish in left if wish.least[0] <= end]
        left = [wish for wish in left if wish.least[0] > end]


def _covered(ordered: Sequence[Wish]) -> list[list[Wish]]:
    """Return a smallest cover by cliques; each wish stays in the first that has it."""
    everybody = (1 << len(ordered)) - 1
    cliques = _cliques(ordered, everybody, axis=0)
    best = _smallest(everybody, sorted(_largest(cliques), reverse=True), ordered)
    found, left = [], everybody
    for clique in best:
        here = clique & left
        left &= ~clique
        found.append([wish for n, wish in enumerate(ordered) if here >> n & 1])
    return found


def _cliques(ordered: Sequence[Wish], among: int, axis: int) -> set[int]:
    """Return the sets (as bits) of wishes with a point in common, the largest ones.

    A set that can't grow has its point at a right end on each axis.
    """
    if axis == len(ordered[0].wanted):
        return {among}
    members = [n for n in range(len(ordered)) if among >> n & 1]
    found: set[int] = set()
    for end in {ordered[n].most[axis] for n in members}:
        active = sum(
            1 << n
            for n in members
            if ordered[n].least[axis] <= end <= ordered[n].most[axis]
        )
        found |= _cliques(ordered, active, axis + 1)
    return _largest(found)


def _largest(sets: set[int]) -> set[int]:
    """Leave out the sets that lie in another one."""
    kept: list[int] = []
    for one in sorted(sets, key=int.bit_count, reverse=True):
        if not any(one & other == one for other in kept):
            kept.append(one)
    return set(kept)


def _smallest(
    everybody: int, cliques: Sequence[int], ordered: Sequence[Wish]
) -> list[int]:
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


def _group(wishes: Sequence[Wish]) -> Group:
    """Return the group set to what most of its wishes want, or between their limits."""
    at = []
    for axis in range(len(wishes[0].wanted)):
        low = max(wish.least[axis] for wish in wishes)
        high = min(wish.most[axis] for wish in wishes)
        wanted = Counter(wish.wanted[axis] for wish in wishes)
        fitting = [value for value in wanted if low <= value <= high]
        middle = (low + high) / 2
        at.append(
            min(fitting, key=lambda v: (-wanted[v], abs(v - middle), v))
            if fitting
            else middle
        )
    return Group(at=tuple(at), wishes=tuple(wishes))
