"""Order setups at a machine for the least change between them.

A setup is a tuple of what is set, the quantity that takes longest to change first (the
stack of a dado set, then the height, then the stop). The order with the fewest changes
of the first is wanted; of those the one with the fewest of the second, and so on. Some
setups may have to come before others, whatever that costs.

Source of the exact search: M. Held and R. M. Karp, A dynamic programming approach to
sequencing problems, J. SIAM 10 (1962), 196-210 (from memory).
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from projects.engine.errors import EngineError

Setup = tuple[Hashable, ...]
Numbered = tuple[int, ...]
MOST_EXACT = 11
"""Above this many different setups the order comes from a search without proof."""


@dataclass(frozen=True, kw_only=True)
class Order:
    """Hold an order: indices of the setups, the changes of each quantity, and proof.

    `is_proven` tells that no order that keeps to what comes before has fewer changes.
    """

    indices: tuple[int, ...]
    changes: tuple[int, ...]
    is_proven: bool


def least_change(
    setups: Sequence[Setup], *, before: Collection[tuple[int, int]] = ()
) -> Order:
    """Return setups in an order of least change; the first may stand anywhere.

    Of each pair in `before`, of indices, the first comes first. Setups that are alike
    stand together. Exact for up to 11 different setups, or where each quantity changes
    as seldom as it has values less one; otherwise the best found by turning stretches
    round and moving setups. Raises `EngineError` where no order keeps to `before`.
    """
    if not setups:
        return Order(indices=(), changes=(), is_proven=True)
    places: dict[Numbered, list[int]] = {}
    for n, setup in enumerate(_numbered(setups)):
        places.setdefault(setup, []).append(n)
    different = list(places)
    needs = _needs(list(places.values()), before)
    start = _in_turn(needs)
    exact = len(different) <= MOST_EXACT
    found = _exact(different, needs) if exact else _improved(different, needs, start)
    order = [different[n] for n in found]
    changes = total(order)
    return Order(
        indices=tuple(n for setup in order for n in places[setup]),
        changes=changes,
        is_proven=exact or changes == _at_least(different),
    )


def _needs(
    places: Sequence[Sequence[int]], before: Collection[tuple[int, int]]
) -> list[int]:
    """Return for each different setup those that come before it, as bits."""
    number = {index: n for n, indices in enumerate(places) for index in indices}
    needs = [0] * len(places)
    for first, then in before:
        needs[number[then]] |= 1 << number[first]
    return needs


def _in_turn(needs: Sequence[int]) -> list[int]:
    """Return an order that keeps to what comes before, else as given."""
    order: list[int] = []
    done, left = 0, list(range(len(needs)))
    while left:
        found = next((n for n in left if not needs[n] & ~done), None)
        if found is None:
            raise EngineError("setups can't each come before the other")
        order.append(found)
        left.remove(found)
        done |= 1 << found
    return order


def _numbered(setups: Sequence[Setup]) -> list[Numbered]:
    """Return setups with small numbers in place of their values: quick to compare."""
    numbers: list[dict[Hashable, int]] = [{} for _ in setups[0]]
    return [
        tuple(
            seen.setdefault(value, len(seen))
            for seen, value in zip(numbers, setup, strict=True)
        )
        for setup in setups
    ]


def total(order: Sequence[Setup]) -> tuple[int, ...]:
    """Return how often each quantity changes along an order [-]."""
    counts = [0] * len(order[0])
    for one, other in pairwise(order):
        for n, (before, after) in enumerate(zip(one, other, strict=True)):
            counts[n] += before != after
    return tuple(counts)


def _at_least(setups: Sequence[Numbered]) -> tuple[int, ...]:
    """Return what no order is below: one change fewer than there are values."""
    return tuple(len(set(values)) - 1 for values in zip(*setups, strict=True))


def _cost(one: Numbered, other: Numbered, base: int) -> int:
    """Return the changes between two setups as one number, the first weighing most."""
    cost = 0
    for before, after in zip(one, other, strict=True):
        cost = cost * base + (before != after)
    return cost


def _costs(setups: Sequence[Numbered]) -> list[list[int]]:
    base = len(setups) + 1
    return [[_cost(one, other, base) for other in setups] for one in setups]


def _exact(setups: Sequence[Numbered], needs: Sequence[int]) -> list[int]:
    count, cost = len(setups), _costs(setups)
    # best[members, last]: the least cost of a path through the members that ends there
    best: dict[tuple[int, int], tuple[int, int]] = {
        (1 << n, n): (0, -1) for n in range(count) if not needs[n]
    }
    for members in range(1, 1 << count):
        for last in range(count):
            if (members, last) not in best:
                continue
            so_far = best[members, last][0]
            for following in range(count):
                if members >> following & 1 or needs[following] & ~members:
                    continue
                key = (members | 1 << following, following)
                offer = (so_far + cost[last][following], last)
                if key not in best or offer < best[key]:
                    best[key] = offer
    members = (1 << count) - 1
    ends = [n for n in range(count) if (members, n) in best]
    last = min(ends, key=lambda n: best[members, n])
    path: list[int] = []
    while last >= 0:
        path.append(last)
        members, last = members ^ 1 << last, best[members, last][1]
    return path[::-1]


def _improved(
    setups: Sequence[Numbered], needs: Sequence[int], start: Sequence[int]
) -> list[int]:
    """Change an order, stretch by stretch, for as long as that makes it cheaper."""
    # what stands ahead of the first and behind the last costs no change
    outside = len(setups)
    cost = [[*row, 0] for row in _costs(setups)] + [[0] * (outside + 1)]
    path = [outside, *start, outside]
    better = True
    while better:
        better = False
        for low in range(1, outside):
            found = _cheaper(path, low, needs, cost)
            if found:
                path[low : low + len(found)] = found
                better = True
    return path[1:-1]


def _cheaper(
    path: Sequence[int], low: int, needs: Sequence[int], cost: Sequence[Sequence[int]]
) -> list[int]:
    """Return a stretch from `low` on in a cheaper order; none where there is none.

    It is turned round, or its first goes last, or its last goes first.
    """
    ahead, first, second = path[low - 1 : low + 2]
    seen, turns, sinks = 1 << first, True, True
    for high in range(low + 1, len(path) - 1):
        prior, final, behind = path[high - 1 : high + 2]
        rises = not needs[final] & seen
        turns, sinks = turns and rises, sinks and not needs[final] >> first & 1
        seen |= 1 << final
        to, back = cost[ahead], cost[first]
        now = to[first] + cost[final][behind]
        if turns and to[final] + back[behind] < now:
            return list(reversed(path[low : high + 1]))
        loop = cost[final][first]
        if sinks and to[second] + loop + back[behind] < now + back[second]:
            return [*path[low + 1 : high + 1], first]
        if rises and to[final] + loop + cost[prior][behind] < now + cost[prior][final]:
            return [final, *path[low:high]]
    return []
