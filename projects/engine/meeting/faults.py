"""Check a plan of a meeting against everything it must keep to.

This shares nothing with the model or the heuristic: it looks at the turns minute by
minute and pair by pair.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from projects.engine.meeting.records import (
    Machine,
    MeetingPlan,
    Night,
    Student,
    Turn,
    Way,
)


@dataclass(frozen=True, kw_only=True)
class Fault:
    """Say what is wrong with which turns.

    `kind` is one word for a log.
    """

    kind: str
    message: str
    turns: tuple[Turn, ...]

    def __str__(self) -> str:
        who = ", ".join(f"{turn.student} {turn.task}" for turn in self.turns)
        return f"{self.message}: {who}"


def faults(plan: MeetingPlan, night: Night) -> tuple[Fault, ...]:
    """Return what is wrong with a plan; nothing where it may be shown."""
    return tuple(_all(plan.turns, night))


def turn_faults(turns: Sequence[Turn], night: Night) -> tuple[Fault, ...]:
    """Return what is wrong with turns, of a plan or of a part of one."""
    return tuple(_all(turns, night))


def _all(turns: Sequence[Turn], night: Night) -> Iterator[Fault]:
    known = [turn for turn in turns if (turn.student, turn.task) in night.task_by_key]
    for turn in turns:
        if turn not in known:
            yield _fault("unknown", "nobody has this step open", turn)
    for kept in night.begun:
        if kept not in turns:
            yield _fault("begun", "what has begun is not in the plan", kept)
    for turn in known:
        yield from _alone(turn, night)
    for student in night.students:
        own = [turn for turn in known if turn.student == student.key]
        yield from _of_student(student, own)
    for machine in night.machines:
        at = [turn for turn in known if turn.machine == machine.key]
        yield from _at_machine(machine, at, night)


def _alone(turn: Turn, night: Night) -> Iterator[Fault]:
    student = next(s for s in night.students if s.key == turn.student)
    way = _way(turn, night)
    if way is None:
        yield _fault("way", "the student may not do this step there", turn)
    if turn in night.begun:
        return
    if way is not None and turn.end - turn.start != way.minutes:
        yield _fault("minutes", "the step takes longer or shorter", turn)
    if turn.start < max(night.now, student.present_from):
        yield _fault("early", "it begins before now or before the student comes", turn)
    if turn.end > night.minutes:
        yield _fault("late", "it ends after the meeting", turn)


def _of_student(student: Student, turns: Sequence[Turn]) -> Iterator[Fault]:
    for one, other in combinations(turns, 2):
        if one.task == other.task:
            yield _fault("twice", "a step is done twice", one, other)
        elif one.start < other.end and other.start < one.end:
            yield _fault("student", "a student does two things at once", one, other)
    for first, then in student.pairs:
        before = [turn for turn in turns if turn.task == first]
        for turn in (turn for turn in turns if turn.task == then):
            if not any(earlier.end <= turn.start for earlier in before):
                yield _fault("order", "a step comes before one it needs", turn)


def _at_machine(
    machine: Machine, turns: Sequence[Turn], night: Night
) -> Iterator[Fault]:
    for turn in turns:
        if turn.unit is None or not 0 <= turn.unit < machine.units:
            yield _fault("unit", "there is no such unit", turn)
        if machine.down_from is not None and turn.end > machine.down_from:
            yield _fault("down", "the machine is down", turn)
    for minute in {turn.start for turn in turns}:
        there = [turn for turn in turns if turn.start <= minute < turn.end]
        for unit, count in Counter(turn.unit for turn in there).items():
            if count > machine.most_people:
                crowd = (turn for turn in there if turn.unit == unit)
                yield _fault("people", "too many people at a machine", *crowd)
    if machine.changes:
        for one, other in combinations(turns, 2):
            if {one, other} <= set(night.begun):
                continue
            if one.unit == other.unit and not _time_to_change(
                machine, one, other, night
            ):
                yield _fault("setup", "no time to change the setup", one, other)


def _time_to_change(machine: Machine, one: Turn, other: Turn, night: Night) -> bool:
    first, then = sorted((one, other), key=lambda turn: (turn.start, turn.end))
    ways = [_way(turn, night) for turn in (first, then)]
    setups = [way.setup if way else "" for way in ways]
    shared = setups[0] == setups[1] != ""
    return shared or then.start - first.end >= machine.setup_minutes


def _way(turn: Turn, night: Night) -> Way | None:
    ways: Iterable[Way] = night.task_by_key[turn.student, turn.task].ways
    return next((way for way in ways if way.machine == turn.machine), None)


def _fault(kind: str, message: str, *turns: Turn) -> Fault:
    return Fault(kind=kind, message=message, turns=turns)
