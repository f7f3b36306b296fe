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
"""How far a step is moved at most, in minutes of a plan as long as the meeting."""
OTHER_WAY = 0.4
"""The share of changes that want another way of a step; the others move it."""
MOVES_A_NUMBERING = 32
HOT_STEPS, COLD_STEPS = 0.03, 0.001
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
    first, near = queue.first_step, _near(queue, current)
    for move in range(moves):
        if move % MOVES_A_NUMBERING == 0:
            order = _numbered(queue, order, len(current.places))
        heat = first * HOT_STEPS * (COLD_STEPS / HOT_STEPS) ** (move / moves)
        tried, ways = order, wanted
        n = near[numbers.below(len(near))]
        if numbers.next() < OTHER_WAY:
            ways = wanted.copy()
            ways[n] = numbers.below(queue.ways[n] + 1) - 1
        else:
            tried = _shifted(queue, order, n, numbers)
        served = queue.serve(tried, ways)
        if served.points >= current.points - heat * numbers.next():
            if len(served.places) != len(current.places):
                near = _near(queue, served)
            order, wanted, current = tried, ways, served
            best = max(best, served, key=lambda plan: plan.points)
    return best


def _near(queue: Queue, served: Served) -> list[int]:
    """Return the steps worth moving: all that have a turn, and each student's next."""
    near = {n for n, _, _, _ in served.places}
    nexts = [next((n for n in own if n not in near), None) for own in queue.of_student]
    return sorted(near | {n for n in nexts if n is not None})


def _numbered(queue: Queue, order: list[float], turns: int) -> list[float]:
    """Return an order numbered anew: a shift means as much as it did at first."""
    a_turn = queue.night.minutes / max(1, turns)
    numbered = order.copy()
    for place, n in enumerate(sorted(range(len(order)), key=order.__getitem__)):
        numbered[n] = a_turn * place
    return numbered


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
