"""Order setups at a machine for the least change between them.

A setup is a tuple of what is set, the quantity that takes longest to change first (the
stack of a dado set, then the height, then the stop). The order with the fewest changes
of the first is wanted; of those the one with the fewest of the second, and so on.

Source of the exact search: M. Held and R. M. Karp, A dynamic programming approach to
sequencing problems, J. SIAM 10 (1962), 196-210 (from memory).
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Setup = tuple[Hashable, ...]
Numbered = tuple[int, ...]
MOST_EXACT = 11
"""Above this many different setups the order comes from a search without proof."""


@dataclass(frozen=True, kw_only=True)
class Order:
    """Hold an order: indices of the setups, the changes of each quantity, and proof.

    `is_proven` tells that no order has fewer changes.
    """

    indices: tuple[int, ...]
    changes: tuple[int, ...]
    is_proven: bool


def least_change(setups: Sequence[Setup]) -> Order:
    """Return setups in an order of least change; the first may stand anywhere.

    Exact for up to 11 different setups, or where each quantity changes as seldom as it
    has values less one; otherwise the best found by exchanging stretches.
    """
    if not setups:
        return Order(indices=(), changes=(), is_proven=True)
    places: dict[Numbered, list[int]] = {}
    for n, setup in enumerate(_numbered(setups)):
        places.setdefault(setup, []).append(n)
    different = list(places)
    exact = len(different) <= MOST_EXACT
    order = _exact(different) if exact else _improved(sorted(different))
    changes = total(order)
    return Order(
        indices=tuple(n for setup in order for n in places[setup]),
        changes=changes,
        is_proven=exact or changes == _at_least(different),
    )


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


def _exact(setups: Sequence[Numbered]) -> list[Numbered]:
    count, cost = len(setups), _costs(setups)
    # best[members, last]: the least cost of a path through the members that ends there
    best: dict[tuple[int, int], tuple[int, int]] = {
        (1 << n, n): (0, -1) for n in range(count)
    }
    for members in range(1, 1 << count):
        for last in range(count):
            if (members, last) not in best:
                continue
            so_far = best[members, last][0]
            for following in range(count):
                if members >> following & 1:
                    continue
                key = (members | 1 << following, following)
                offer = (so_far + cost[last][following], last)
                if key not in best or offer < best[key]:
                    best[key] = offer
    members = (1 << count) - 1
    last = min(range(count), key=lambda n: best[members, n])
    path: list[Numbered] = []
    while last >= 0:
        path.append(setups[last])
        members, last = members ^ 1 << last, best[members, last][1]
    return path[::-1]


def _improved(setups: Sequence[Numbered]) -> list[Numbered]:
    """Turn stretches of an order round for as long as that makes it cheaper."""
    cost, order = _costs(setups), list(range(len(setups)))
    last = len(order) - 1
    better = True
    while better:
        better = False
        for start in range(last):
            for end in range(start + 1, len(order)):
                first, final = order[start], order[end]
                gain = 0
                if start:
                    ahead = order[start - 1]
                    gain += cost[ahead][first] - cost[ahead][final]
                if end < last:
                    behind = order[end + 1]
                    gain += cost[final][behind] - cost[first][behind]
                if gain > 0:
                    order[start : end + 1] = order[start : end + 1][::-1]
                    better = True
    return [setups[n] for n in order]
