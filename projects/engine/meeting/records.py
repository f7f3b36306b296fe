"""What goes into a meeting plan, and what comes out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from projects.engine.errors import EngineError


class MeetingError(EngineError):
    """Tell that a meeting can't be planned as it is described."""


@dataclass(frozen=True, kw_only=True)
class Machine:
    """Describe a machine, or several alike (`units`).

    Each unit serves `most_people` at once. Changing its setup takes `setup_minutes`,
    in which nobody works at it; that is planned where a unit serves one at a time, and
    left out where several share it. The first setup of a meeting is made before it, and
    an instructor or helper changes it, so no student is held up by that. The machine is
    down from minute `down_from` on.
    """

    key: str
    units: int = 1
    most_people: int = 1
    setup_minutes: int = 0
    down_from: int | None = None

    def __post_init__(self) -> None:
        if min(self.units, self.most_people) < 1 or self.setup_minutes < 0:
            raise MeetingError("machine {key} serves nobody", key=self.key)

    @property
    def changes(self) -> bool:
        """Say whether changes of its setup are planned."""
        return self.most_people == 1 and self.setup_minutes > 0


@dataclass(frozen=True, kw_only=True)
class Way:
    """Hold one way to do a step: at a machine, or at the bench (None), which has room.

    Steps with the same `setup` at a machine share it, whoever does them; an empty one
    is shared with nobody.
    """

    machine: str | None = None
    minutes: int
    setup: str = ""

    def __post_init__(self) -> None:
        if self.minutes < 1:
            raise MeetingError("a step takes a minute at least")


@dataclass(frozen=True, kw_only=True)
class Task:
    """Hold an open step and the ways the student may do it; without one it waits."""

    key: str
    title: str = ""
    ways: tuple[Way, ...]


@dataclass(frozen=True, kw_only=True)
class Student:
    """Hold a student who comes, present from a minute on, with the open steps.

    Each step follows the one before it, unless `before` gives the pairs of keys of
    which the first must be finished before the second begins. `done` tells how many
    steps the student has finished at this meeting that are no longer in `tasks`.
    """

    key: str
    tasks: tuple[Task, ...]
    present_from: int = 0
    before: tuple[tuple[str, str], ...] | None = None
    done: int = 0

    @cached_property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """Return which step must be finished before which."""
        if self.before is not None:
            return self.before
        keys = [task.key for task in self.tasks]
        return tuple(pairwise(keys))


@dataclass(frozen=True, kw_only=True)
class Turn:
    """Say that a student does a step from `start` to `end` [minutes of the meeting].

    `unit` counts from 0 among machines alike; both are None at the bench.
    """

    student: str
    task: str
    machine: str | None
    unit: int | None
    start: int
    end: int


@dataclass(frozen=True, kw_only=True)
class Night:
    """Describe a meeting of so many minutes, planned from minute `now` on.

    Students who are away are left out. `begun` has begun before now, or is finished,
    and stays as it is, even where it takes longer than its step says.
    """

    minutes: int
    machines: tuple[Machine, ...]
    students: tuple[Student, ...]
    now: int = 0
    begun: tuple[Turn, ...] = ()

    def __post_init__(self) -> None:
        _once("machine", [machine.key for machine in self.machines])
        _once("student", [student.key for student in self.students])
        for student in self.students:
            _once("step", [task.key for task in student.tasks])
            known = {task.key for task in student.tasks}
            for key in {key for pair in student.pairs for key in pair} - known:
                raise MeetingError("there is no step {key}", key=key)
            for way in (way for task in student.tasks for way in task.ways):
                if way.machine not in {None, *self.machine_by_key}:
                    raise MeetingError("there is no machine {key}", key=way.machine)

    @cached_property
    def machine_by_key(self) -> dict[str, Machine]:
        """Return the machines by key."""
        return {machine.key: machine for machine in self.machines}

    @cached_property
    def task_by_key(self) -> dict[tuple[str, str], Task]:
        """Return the steps by student and key."""
        return {(s.key, task.key): task for s in self.students for task in s.tasks}


@dataclass(frozen=True, kw_only=True)
class MeetingPlan:
    """Hold who does what when, by start, and how good that is proved to be.

    `value` is what the plan is worth (see `credit`), `bound` what no plan is above;
    where the last end is wanted early, what none is below. `gap` is how far the value
    may be off at most, as a share of the larger of the two.
    """

    turns: tuple[Turn, ...]
    value: int
    bound: int
    is_proven: bool

    @property
    def gap(self) -> float:
        """Return how far from the best the plan may be at most [-]."""
        larger = max(self.value, self.bound)
        return abs(self.bound - self.value) / larger if larger else 0.0


def setup_of(night: Night, turn: Turn) -> str:
    """Return the setup of a turn's machine in it."""
    ways = night.task_by_key[turn.student, turn.task].ways
    return next((way.setup for way in ways if way.machine == turn.machine), "")


def in_order(turns: Sequence[Turn]) -> tuple[Turn, ...]:
    """Return turns by start, then student."""
    return tuple(sorted(turns, key=lambda turn: (turn.start, turn.student, turn.task)))


def _once(what: str, keys: Sequence[str]) -> None:
    for key in {key for key in keys if keys.count(key) > 1}:
        raise MeetingError("{what} {key} is there twice", what=what, key=key)
