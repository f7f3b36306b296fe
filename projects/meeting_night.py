"""A meeting as it stands: rows to the engine's night, and its plan back to a row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from math import ceil
from typing import Any

from projects import progress
from projects.engine.meeting import records
from projects.engine.meeting.records import Night, Turn
from projects.models import (
    Machine,
    Meeting,
    MeetingPlan,
    Outage,
    Presence,
    StepMark,
)
from projects.night_minutes import change_minutes
from projects.night_setups import tasks_by_build
from projects.night_tasks import Floor, Tasks, tasks_of
from projects.overview import Roll, Rows, Student, roll_of, rows_of
from projects.run_sheet_people import work_of

MINUTE = timedelta(minutes=1)
HERE = Presence.State.PRESENT


@dataclass(frozen=True, kw_only=True)
class Person:
    """One student tonight; `heard` is the newest row of presence, None before any.

    `done` are the steps that were ticked at this meeting and still are.
    """

    student: Student
    heard: Presence | None
    work: Tasks
    is_broken: bool
    done: frozenset[str]

    @property
    def state(self) -> str:
        """Whether the student is there."""
        return self.heard.state if self.heard else HERE

    @property
    def is_here(self) -> bool:
        """Tell whether the student is planned."""
        return self.state == HERE


@dataclass(frozen=True, kw_only=True)
class Evening:
    """All that is known of a meeting: who is there, what runs, and the newest plan.

    `outages` are the newest of each machine, `marks` those since the meeting began or
    was planned, oldest first.
    """

    meeting: Meeting
    now: datetime
    people: tuple[Person, ...]
    floor: Floor
    outages: Mapping[int, Outage]
    marks: tuple[StepMark, ...]
    titles: Mapping[tuple[int, str], str]
    plan: MeetingPlan | None

    @property
    def ends_at(self) -> datetime:
        """When the meeting ends."""
        return self.meeting.starts_at + self.meeting.minutes * MINUTE

    @property
    def is_over(self) -> bool:
        """Tell whether nothing can be planned any more."""
        return self.minute >= self.meeting.minutes

    @property
    def minute(self) -> int:
        """The next whole minute of the meeting; 0 before it begins."""
        return max(0, minute_of(self.meeting, self.now))

    @property
    def places(self) -> dict[str, str]:
        """The names of the machines, by the engine's keys of them."""
        return {str(machine.pk): machine.name for machine in self.floor.machines}

    @property
    def can_plan(self) -> bool:
        """Tell whether anybody here has something to do."""
        return not self.is_over and any(p.is_here and p.work.tasks for p in self.people)

    @cached_property
    def done(self) -> frozenset[tuple[str, str]]:
        """The steps ticked at this meeting, as the engine names them."""
        return frozenset(
            (str(person.student.build), key)
            for person in self.people
            for key in person.done
        )

    @cached_property
    def turns(self) -> tuple[Turn, ...]:
        """The turns of the newest plan, in minutes of the meeting."""
        return turns_of(self.plan, self.meeting) if self.plan else ()

    def at(self, minute: int) -> datetime:
        """Return when a minute of the meeting is."""
        return self.meeting.starts_at + minute * MINUTE

    def title(self, turn: Turn) -> str:
        """Return the title of a turn's step."""
        return self.titles.get((int(turn.student), turn.task), turn.task)


def minute_of(meeting: Meeting, at: datetime) -> int:
    """Return the first whole minute of a meeting that is not before `at`."""
    return ceil((at - meeting.starts_at) / MINUTE)


def turns_of(plan: MeetingPlan, meeting: Meeting) -> tuple[Turn, ...]:
    """Return a kept plan's turns, in minutes of the meeting; costs no query."""
    zero = minute_of(meeting, plan.at)
    return tuple(
        Turn(
            student=str(turn["build"]),
            task=turn["step"],
            machine=None if turn["machine"] is None else str(turn["machine"]),
            unit=turn["unit"],
            start=turn["start"] + zero,
            end=turn["end"] + zero,
        )
        for turn in plan.turns
    )


def rows_from(
    turns: Iterable[Turn],
    meeting: Meeting,
    at: datetime,
    *,
    places: Mapping[str, str],
) -> list[Any]:
    """Return turns as `MeetingPlan.turns` keeps them: in minutes from `at`.

    `places` are the names of the machines, by the engine's keys of them; they are kept
    too, so that a student's page needs no query for them.
    """
    zero = minute_of(meeting, at)
    return [
        {
            "build": int(turn.student),
            "step": turn.task,
            "machine": None if turn.machine is None else int(turn.machine),
            "unit": turn.unit,
            "place": places.get(turn.machine or "", ""),
            "start": turn.start - zero,
            "end": turn.end - zero,
        }
        for turn in turns
    ]


def evening_of(meeting: Meeting, *, now: datetime) -> Evening:
    """Return a meeting as it stands; costs ten queries, or eleven.

    Its class comes from a gate.
    """
    roll = roll_of(meeting.shop_class, now=now)
    rows = rows_of(roll)
    machines = tuple(
        Machine.objects.filter(shop=meeting.shop_class.shop_id, retired_at=None)
    )
    outages = {
        row.machine_id: row for row in Outage.objects.filter(machine__in=machines)
    }
    heard = {row.build_id: row for row in meeting.presences.all()}
    plan = meeting.meeting_plans.last()
    since = min(meeting.starts_at, plan.at) if plan else meeting.starts_at
    builds = [student.build for student in roll.students]
    marks = tuple(StepMark.objects.filter(build__in=builds, at__gte=since))
    down = frozenset(pk for pk, row in outages.items() if row.down)
    floor = Floor(machines=machines, down=down)
    return Evening(
        meeting=meeting,
        now=now,
        people=tuple(
            _person(roll, rows, student, heard.get(student.build), floor, marks)
            for student in roll.students
        ),
        floor=floor,
        outages=outages,
        marks=marks,
        titles=_titles(roll, rows),
        plan=plan,
    )


def _person(
    roll: Roll,
    rows: Rows,
    student: Student,
    heard: Presence | None,
    floor: Floor,
    marks: Sequence[StepMark],
) -> Person:
    states = rows.sign_offs.get(student.student, {})
    signed = frozenset(pk for pk, found in states.items() if found.state == "signed")
    done = rows.done.get(student.build, frozenset())
    work = work_of(
        rows.plan_of(student),
        rows.readings.get(student.build, ()),
        done=done,
        listed=roll.listed,
        signed=frozenset(m.kind for m in roll.machines if m.pk in signed),
    )
    tasks = (
        tasks_of(work, floor, signed, revision=student.revision) if work else Tasks()
    )
    tonight = {mark.step for mark in marks if mark.build_id == student.build}
    return Person(
        student=student,
        heard=heard,
        work=tasks,
        is_broken=work is None,
        done=done & tonight,
    )


def _titles(roll: Roll, rows: Rows) -> dict[tuple[int, str], str]:
    return {
        (student.build, step.key): step.title
        for student in roll.students
        for step in progress.course(rows.plan_of(student)).steps
    }


def night_of(evening: Evening) -> Night:
    """Return the meeting as the engine plans it, from now to its end.

    Students who come later or are away are left out, and machines that are down.
    """
    here = [person for person in evening.people if person.is_here]
    tasks = tasks_by_build({p.student.build: p.work.tasks for p in here})
    return Night(
        minutes=evening.meeting.minutes,
        now=evening.minute,
        machines=tuple(
            records.Machine(
                key=str(machine.pk),
                units=machine.how_many,
                most_people=machine.most_people,
                setup_minutes=change_minutes(machine),
            )
            for machine in evening.floor.running()
        ),
        students=tuple(
            records.Student(
                key=str(person.student.build),
                tasks=tasks[person.student.build],
                done=len(person.done),
            )
            for person in here
        ),
    )


def old_plan(evening: Evening) -> records.MeetingPlan | None:
    """Return the newest plan to plan anew from; None before any.

    What should have ended by now and isn't ticked is left out: it is still open, and
    planned again.
    """
    if evening.plan is None:
        return None
    return records.MeetingPlan(
        turns=tuple(turn for turn in evening.turns if turn.end > evening.minute),
        value=round(evening.plan.value),
        bound=round(evening.plan.bound),
        is_proven=False,
    )
