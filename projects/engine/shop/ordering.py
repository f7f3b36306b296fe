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
    places: dict[Setup, list[int]] = {}
    for n, setup in enumerate(setups):
        places.setdefault(setup, []).append(n)
    different = list(places)
    exact = len(different) <= MOST_EXACT
    order = _exact(different) if exact else _improved(sorted(different, key=repr))
    changes = total(order)
    return Order(
        indices=tuple(n for setup in order for n in places[setup]),
        changes=changes,
        is_proven=exact or changes == _at_least(different),
    )


def total(order: Sequence[Setup]) -> tuple[int, ...]:
    """Return how often each quantity changes along an order [-]."""
    counts = [0] * len(order[0])
    for one, other in pairwise(order):
        for n, (before, after) in enumerate(zip(one, other, strict=True)):
            counts[n] += before != after
    return tuple(counts)


def _at_least(setups: Sequence[Setup]) -> tuple[int, ...]:
    """Return what no order is below: one change fewer than there are values."""
    return tuple(len(set(values)) - 1 for values in zip(*setups, strict=True))


def _cost(one: Setup, other: Setup, base: int) -> int:
    """Return the changes between two setups as one number, the first weighing most."""
    cost = 0
    for before, after in zip(one, other, strict=True):
        cost = cost * base + (before != after)
    return cost


def _exact(setups: Sequence[Setup]) -> list[Setup]:
    count, base = len(setups), len(setups) + 1
    cost = [[_cost(one, other, base) for other in setups] for one in setups]
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
    path: list[Setup] = []
    while last >= 0:
        path.append(setups[last])
        members, last = members ^ 1 << last, best[members, last][1]
    return path[::-1]


def _improved(order: list[Setup]) -> list[Setup]:
    """Turn stretches of an order round for as long as that makes it cheaper."""
    base = len(order) + 1

    def joint(n: int) -> int:
        return _cost(order[n], order[n + 1], base) if 0 <= n < len(order) - 1 else 0

    better = True
    while better:
        better = False
        for start in range(len(order)):
            for end in range(start + 1, len(order)):
                before = joint(start - 1) + joint(end)
                order[start : end + 1] = order[start : end + 1][::-1]
                if joint(start - 1) + joint(end) < before:
                    better = True
                else:
                    order[start : end + 1] = order[start : end + 1][::-1]
    return order
