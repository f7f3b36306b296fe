"""What a plan of a meeting is worth.

All shall get forward: the first step that a student finishes counts most, the second
half as much, the k-th a k-th of it. So a step for whoever has done little is worth
more than one for whoever is far ahead, and still each step counts. Besides, a step
counts one point for each minute that it is finished before the end of the meeting:
scarce machines are used at once, not later, and time is left for what goes wrong. At
60 points a minute of the meeting for a first step, that second part weighs little:
finishing at the very start rather than at the very end is worth a sixtieth of it.

Source: shares that make the sum of 1/k largest are those called proportionally fair,
F. Kelly, Charging and rate control for elastic traffic, European Transactions on
Telecommunications 8 (1997), 33-37 (from memory). The weights are own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from projects.engine.meeting.records import Night, Turn

FIRST_STEP = 60
"""Points for the first step that a student finishes, a minute of the meeting."""


def step_credit(minutes: int, k: int) -> int:
    """Return the points of the k-th step (from 1) that a student finishes.

    Examples
    --------
    >>> [step_credit(180, k) for k in (1, 2, 3, 4)]
    [10800, 5400, 3600, 2700]
    """
    return FIRST_STEP * minutes // k


def worth(night: Night, turns: Iterable[Turn]) -> int:
    """Return the points of a plan."""
    turns = tuple(turns)
    done = Counter(turn.student for turn in turns)
    steps = sum(
        step_credit(night.minutes, k)
        for student in night.students
        for k in range(student.done + 1, student.done + done[student.key] + 1)
    )
    return steps + sum(max(0, night.minutes - turn.end) for turn in turns)
