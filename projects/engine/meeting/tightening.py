"""Use what is idle: move each turn to where it ends first, the others as they are.

A search that stops by the clock may leave somebody waiting beside a machine that is
free, or doing by hand what the machine would have done sooner. This takes that out,
and adds a student's next step where it still fits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from projects.engine.meeting.records import (
    Machine,
    Night,
    Turn,
    Way,
    in_order,
    setup_of,
)
from projects.engine.meeting.room import Open, closes, open_steps


def tightened(night: Night, turns: Iterable[Turn]) -> tuple[Turn, ...]:
    """Return a plan in which no turn by itself could end sooner.

    Each student's steps keep their order, and what has begun stays as it is. It is
    worth as much as the plan that it was made from, or more.
    """
    steps = {(step.student, step.task): step for step in open_steps(night)}
    plan, is_moved = list(turns), True
    while is_moved:
        is_moved = False
        for turn in in_order(plan):
            step = steps.get((turn.student, turn.task))
            if step is None:
                continue  # it has begun
            others = [other for other in plan if other is not turn]
            own = (t.end for t in others if t.student == turn.student)
            ready = max(
                [_comes(night, step), *(end for end in own if end <= turn.start)]
            )
            sooner = _first(night, others, step, ready)
            if sooner is not None and sooner.end < turn.end:
                plan, is_moved = [*others, sooner], True
        for step in steps.values():
            added = _added(night, plan, step)
            if added is not None:
                plan, is_moved = [*plan, added], True
    return in_order(plan)


def _comes(night: Night, step: Open) -> int:
    student = next(s for s in night.students if s.key == step.student)
    return max(night.now, student.present_from)


def _added(night: Night, plan: Sequence[Turn], step: Open) -> Turn | None:
    """Return a turn for a step that has none, after all that its student does."""
    own = {turn.task: turn.end for turn in plan if turn.student == step.student}
    if step.task in own or not own.keys() >= set(step.after):
        return None
    ready = max([_comes(night, step), *own.values()])
    return _first(night, plan, step, ready)


def _first(night: Night, others: Sequence[Turn], step: Open, ready: int) -> Turn | None:
    """Return the turn of a step that ends first, from a minute on; None without one."""
    found = (
        step.turn(way, unit, start)
        for way in step.ways
        for unit, start in _starts(night, others, way, ready)
        if start + way.minutes <= closes(night, way.machine)
    )
    return min(found, key=lambda turn: turn.end, default=None)


def _starts(
    night: Night, others: Sequence[Turn], way: Way, ready: int
) -> Iterator[tuple[int | None, int]]:
    """Yield each unit with the first minute from `ready` on that it is free for."""
    if way.machine is None:
        yield None, ready
        return
    machine = night.machine_by_key[way.machine]
    for unit in range(machine.units):
        there = [
            (turn, _change(night, machine, way, turn))
            for turn in others
            if turn.machine == machine.key and turn.unit == unit
        ]
        ends = (turn.end + change for turn, change in there)
        for start in sorted({ready, *(end for end in ends if end > ready)}):
            end = start + way.minutes
            near = [
                turn
                for turn, change in there
                if turn.start - change < end and start < turn.end + change
            ]
            if _most_at_once(near) < machine.most_people:
                yield unit, start
                break


def _change(night: Night, machine: Machine, way: Way, turn: Turn) -> int:
    is_shared = way.setup == setup_of(night, turn) != ""
    return machine.setup_minutes if machine.changes and not is_shared else 0


def _most_at_once(turns: Sequence[Turn]) -> int:
    return max(
        (sum(t.start <= turn.start < t.end for t in turns) for turn in turns),
        default=0,
    )
