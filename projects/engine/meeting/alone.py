"""The best plan of a student alone, where each minute at a machine has its price."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

from projects.engine.meeting.credit import step_credit
from projects.engine.meeting.records import Night, Student, Way
from projects.engine.meeting.room import Open, closes

PARTS = 16
"""Prices are whole numbers of a 16th of a point."""
Paid = Mapping[str, Sequence[int]]
"""What is paid at each machine from the beginning up to each minute."""


@dataclass(frozen=True, kw_only=True)
class Taken:
    """Hold that a machine is taken from `start` to `end`."""

    machine: str
    start: int
    end: int


@dataclass(frozen=True, kw_only=True)
class _Table:
    """Hold what a step comes to by when it begins, counted from its head."""

    step: Open
    offers: list[list[int]]
    best: list[int]
    from_here: list[int]


def alone(
    night: Night, student: Student, steps: Sequence[Open], paid: Paid
) -> tuple[int, list[Taken]]:
    """Return the most a student can get [16ths of a point], and how, machines only.

    Exact where the steps follow each other; with pairs of steps, simply not below it.
    """
    done = student.done + sum(turn.student == student.key for turn in night.begun)
    if student.before is not None:
        points = sum(
            step_credit(night.minutes, k) + _soonest(night, step)
            for k, step in enumerate(steps, start=done + 1)
        )
        return PARTS * points, []
    later = [0] * (night.minutes + 1)  # by when the student is free
    tables: list[_Table] = []
    for k in range(len(steps), 0, -1):
        table = _table(night, steps[k - 1], done + k, later, paid)
        tables.append(table)
        head = table.step.head
        later = [max(0, table.from_here[0])] * head
        later += [max(0, value) for value in table.from_here]
        later += [0] * (night.minutes + 1 - len(later))
    return later[0], list(_followed(tables[::-1]))


def _soonest(night: Night, step: Open) -> int:
    return night.minutes - step.head - min(way.minutes for way in step.ways)


def _table(
    night: Night, step: Open, k: int, later: Sequence[int], paid: Paid
) -> _Table:
    lasts = [closes(night, way.machine) - way.minutes for way in step.ways]
    width = max(lasts) - step.head + 1
    credit = step_credit(night.minutes, k)
    offers = []
    for way, last in zip(step.ways, lasts, strict=True):
        found = _offer(night, step, way, last, credit, later, paid)
        offers.append(found + [-1] * (width - len(found)))
    best = [max(every) for every in zip(*offers, strict=True)]
    from_here = list(accumulate(reversed(best), max))[::-1]
    return _Table(step=step, offers=offers, best=best, from_here=from_here)


def _offer(
    night: Night,
    step: Open,
    way: Way,
    last: int,
    credit: int,
    later: Sequence[int],
    paid: Paid,
) -> list[int]:
    """Return what one way comes to when begun at the head, then a minute later."""
    begins = slice(step.head, last + 1)
    ends = slice(step.head + way.minutes, last + way.minutes + 1)
    fixed = PARTS * (credit + night.minutes - way.minutes)
    if way.machine is None:
        return [
            fixed - PARTS * start + after
            for start, after in enumerate(later[ends], step.head)
        ]
    row = paid[way.machine]
    return [
        fixed - PARTS * start + after - until + before
        for start, (after, until, before) in enumerate(
            zip(later[ends], row[ends], row[begins], strict=True), step.head
        )
    ]


def _followed(tables: Sequence[_Table]) -> Iterator[Taken]:
    """Take the best choice from the first step on, for as long as it gains."""
    free = 0
    for table in tables:
        step, n = table.step, max(0, free - table.step.head)
        if n >= len(table.from_here) or table.from_here[n] <= 0:
            return
        n = table.best.index(table.from_here[n], n)
        which = next(w for w, of in enumerate(table.offers) if of[n] == table.best[n])
        way, start = step.ways[which], step.head + n
        free = start + way.minutes
        if way.machine is not None:
            yield Taken(machine=way.machine, start=start, end=free)
