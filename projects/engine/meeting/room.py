"""Where a step has room: the lanes of a machine, and the windows of the meeting.

A lane serves one student at a time: a machine of 2 units for 3 people each has 6.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from projects.engine.meeting.records import (
    Machine,
    MeetingError,
    Night,
    Student,
    Task,
    Turn,
    Way,
)


@dataclass(frozen=True, kw_only=True)
class Open:
    """Hold a step that can still have its turn, from minute `head` on.

    `ways` are those that end in time when begun at `head`; it comes `after` the steps
    with these keys.
    """

    student: str
    task: str
    head: int
    ways: tuple[Way, ...]
    after: tuple[str, ...]

    def turn(self, way: Way, unit: int | None, start: int) -> Turn:
        """Return its turn in one of its ways, from a minute on."""
        return Turn(
            student=self.student,
            task=self.task,
            machine=way.machine,
            unit=unit,
            start=start,
            end=start + way.minutes,
        )


def lanes(machine: Machine) -> int:
    """Return how many students a machine serves at once."""
    return machine.units * machine.most_people


def closes(night: Night, machine: str | None) -> int:
    """Return the minute from which nobody works at a machine (or at the bench)."""
    down = night.machine_by_key[machine].down_from if machine is not None else None
    return night.minutes if down is None else min(down, night.minutes)


def open_steps(night: Night) -> tuple[Open, ...]:
    """Return the steps that can have their turn, each student's in a possible order.

    Left out is what has begun, what nobody may do in time, and what needs such a step
    first. Raises `MeetingError` where the order of a student's steps runs in a circle.
    """
    return tuple(step for student in night.students for step in _of(student, night))


def _of(student: Student, night: Night) -> Iterator[Open]:
    begun = {turn.task: turn for turn in night.begun if turn.student == student.key}
    free = max([night.now, student.present_from, *(t.end for t in begun.values())])
    needs: dict[str, set[str]] = {}  # all that must come before, near and far
    for task in _sorted(student):
        near = [first for first, then in student.pairs if then == task.key]
        needs[task.key] = {*near, *(far for first in near for far in needs[first])}
    found: dict[str, Open] = {}
    for task in _sorted(student):
        first = needs[task.key] - begun.keys()
        if task.key in begun or not first <= found.keys():
            continue
        head = free + sum(min(w.minutes for w in found[key].ways) for key in first)
        ways = tuple(
            way for way in task.ways if head + way.minutes <= closes(night, way.machine)
        )
        if ways:
            found[task.key] = Open(
                student=student.key,
                task=task.key,
                head=head,
                ways=ways,
                after=tuple(a for a, b in student.pairs if b == task.key),
            )
            yield found[task.key]


def _sorted(student: Student) -> list[Task]:
    """Return a student's steps, each after all that it needs."""
    ordered: list[Task] = []
    left = list(student.tasks)
    while left:
        keys = {task.key for task in left}
        waiting = {b for a, b in student.pairs if a in keys}
        free = [task for task in left if task.key not in waiting]
        if not free:
            raise MeetingError(
                "the order of the steps of {who} runs in a circle", who=student.key
            )
        ordered += free
        left = [task for task in left if task.key in waiting]
    return ordered


def in_lanes(machine: Machine, turns: Iterable[Turn]) -> tuple[tuple[Turn, int], ...]:
    """Give each turn at a machine a lane; one with a unit has one of that unit's.

    Raises `MeetingError` where there are more people than lanes.
    """
    free = [0] * lanes(machine)
    placed = []
    for turn in sorted(turns, key=lambda turn: (turn.start, turn.student)):
        fits = [
            lane
            for lane in range(len(free))
            if free[lane] <= turn.start
            and turn.unit in {None, lane // machine.most_people}
        ]
        if not fits:
            raise MeetingError("too many people at {machine}", machine=machine.key)
        free[fits[0]] = turn.end
        placed.append((turn, fits[0]))
    return tuple(placed)
