"""What no plan is above, from prices for the minutes of the machines.

Let a minute at a machine cost something, and let all students plan for themselves,
without a look at each other: each finds the best plan for the price exactly, from the
last step to the first. What they get together plus what the machines take is at least
what the best plan for all is worth, whatever the prices are. Prices rise where more
want a machine than it serves and fall where fewer do, until that sum hardly falls.

Changes of setup are left out, which only makes the bound larger (a price for them too
was tried: it took a thousandth off). Whole numbers all through: the bound is exact.

Source: M. Held, R. Karp, The traveling-salesman problem and minimum spanning trees II,
Mathematical Programming 1 (1971), 6-25, for bounds by prices; B. Polyak, Minimization
of unsmooth functionals, USSR Computational Mathematics 9 (1969), 14-29, for the length
of a step (both from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from operator import mul

from projects.engine.meeting.alone import PARTS, Taken, alone
from projects.engine.meeting.credit import worth
from projects.engine.meeting.records import Machine, Night
from projects.engine.meeting.room import closes, lanes, open_steps

PATIENCE = 12
"""After so many rounds without a better bound the prices change by less."""
SLOWER = 0.7


def most_points(night: Night, *, reached: int, rounds: int) -> int:
    """Return points that no plan is above, better with more rounds.

    `reached` are the points of some plan; they only set how fast prices change.
    """
    steps = open_steps(night)
    own = [(s, [o for o in steps if o.student == s.key]) for s in night.students]
    stalls = [_Stall(machine, night) for machine in night.machines]
    begun = PARTS * worth(night, night.begun)
    best, pace, waited = 0, 1.0, 0
    for round_ in range(rounds):
        paid = {stall.machine.key: stall.paid() for stall in stalls}
        total = begun + sum(stall.takes() for stall in stalls)
        taken: list[Taken] = []
        for student, mine in own:
            points, chosen = alone(night, student, mine, paid)
            total += points
            taken += chosen
        if not round_ or total < best:
            best, waited = total, 0
        else:
            waited += 1
        if waited > PATIENCE:
            pace, waited = pace * SLOWER, 0
        excess = pace * (total - PARTS * reached)
        square = sum(stall.look(taken) for stall in stalls)
        if not square or excess <= 0:
            break
        for stall in stalls:
            stall.change(excess / square)
    return best // PARTS


class _Stall:
    """Keep the prices of one machine."""

    def __init__(self, machine: Machine, night: Night) -> None:
        self.machine = machine
        self.seats = _seats(night, machine)
        self.prices = [0] * night.minutes
        self.over = [0] * night.minutes

    def paid(self) -> list[int]:
        """Return what is paid from the beginning up to each minute."""
        return [0, *accumulate(self.prices)]

    def takes(self) -> int:
        """Return what all its minutes cost."""
        return sum(map(mul, self.prices, self.seats))

    def look(self, taken: Sequence[Taken]) -> int:
        """See by how much more is taken than there is; return the sum of squares."""
        self.over = [-seats for seats in self.seats]
        for turn in taken:
            if turn.machine == self.machine.key:
                for minute in range(turn.start, turn.end):
                    self.over[minute] += 1
        return sum(
            over * over
            for over, price in zip(self.over, self.prices, strict=True)
            if over > 0 or price > 0
        )

    def change(self, length: float) -> None:
        """Move the prices towards what is wanted."""
        self.prices = [
            max(0, price + round(length * over))
            for price, over in zip(self.prices, self.over, strict=True)
        ]


def _seats(night: Night, machine: Machine) -> list[int]:
    """Return how many it can serve in each minute, less those who have begun."""
    seats = [0] * night.minutes
    begun = [turn for turn in night.begun if turn.machine == machine.key]
    for minute in range(night.now, closes(night, machine.key)):
        there = sum(turn.start <= minute < turn.end for turn in begun)
        seats[minute] = lanes(machine) - there
    return seats
