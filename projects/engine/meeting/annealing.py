"""A good order by annealing: small changes, worse ones allowed ever less.

Source: S. Kirkpatrick, C. Gelatt, M. Vecchi, Optimization by simulated annealing,
Science 220 (1983), 671-680; the pseudo-random numbers are the linear congruence of
D. Knuth, The Art of Computer Programming, volume 2, section 3.3.4 (both from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from projects.engine.meeting.queue import Queue, Served

MINUTES_BACK_A_STEP = (0, 2, 5, 10, 20)
"""By how much a student who has finished a step more waits, in the first orders."""
SHIFT_MINUTES = 40
HOT_STEPS, COLD_STEPS = 0.03, 0.002
"""How much worse a change may be at first and at last, in first steps of a student."""


class _Numbers:
    """Give the same numbers between 0 and 1 for the same seed."""

    def __init__(self, seed: int) -> None:
        self.state = seed

    def next(self) -> float:
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return self.state / 2**64

    def below(self, count: int) -> int:
        return int(self.next() * count)


def first_order(queue: Queue) -> list[float]:
    """Return the best of a few plain orders: who could begin first, with a handicap."""
    anyhow = [-1] * len(queue.steps)
    orders = [_with_handicap(queue, back) for back in MINUTES_BACK_A_STEP]
    return max(orders, key=lambda order: queue.serve(order, anyhow).points)


def _with_handicap(queue: Queue, back: int) -> list[float]:
    order = [0.0] * len(queue.steps)
    for own in queue.of_student:
        for rank, n in enumerate(own):
            order[n] = float(queue.steps[n].head + back * rank)
    return order


def annealed(
    queue: Queue, order: Sequence[float], *, moves: int, seed: int = 0
) -> Served:
    """Return the best plan met in so many moves from an order; the same each time."""
    numbers = _Numbers(seed)
    order, wanted = list(order), [-1] * len(order)
    best = current = queue.serve(order, wanted)
    if not order:
        return best
    first = queue.first_step
    for move in range(moves):
        heat = first * HOT_STEPS * (COLD_STEPS / HOT_STEPS) ** (move / moves)
        tried, ways = order, wanted
        n = numbers.below(len(order))
        if numbers.next() < 0.25:
            ways = wanted.copy()
            ways[n] = numbers.below(len(queue.ways[n]) + 1) - 1
        else:
            tried = _shifted(queue, order, n, numbers)
        served = queue.serve(tried, ways)
        if served.points >= current.points - heat * numbers.next():
            order, wanted, current = tried, ways, served
            best = max(best, served, key=lambda plan: plan.points)
    return best


def _shifted(
    queue: Queue, order: list[float], n: int, numbers: _Numbers
) -> list[float]:
    """Move a step, or it and all that the student does after it."""
    own = queue.of_student[queue.student[n]]
    by = (2 * numbers.next() - 1) * SHIFT_MINUTES
    moved = [n] if numbers.next() < 0.5 else own[own.index(n) :]
    tried = order.copy()
    for step in moved:
        tried[step] += by
    # the student's steps keep their own order: the places are dealt out anew
    for step, place in zip(own, sorted(tried[step] for step in own), strict=True):
        tried[step] = place
    return tried
