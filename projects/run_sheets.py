"""A machine's run sheet: what its class's students want of it now, as engine jobs.

Rows are fetched for the whole class, as for the overview; what the engine makes of a
build is kept by what went in.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, lru_cache

from django.db.models import Max
from django.utils import timezone

from projects.engine.fit.solve import Solution
from projects.engine.plan.steps import Step
from projects.engine.setups.grouping import Tolerance
from projects.engine.setups.reach import beyond
from projects.engine.setups.run_sheet import Job, RunSheet, run_sheet
from projects.engine.setups.setting_records import Name, Piece, Setting
from projects.engine.setups.settings import step_settings
from projects.engine.setups.words import Words
from projects.machine_has import machine_has
from projects.models import CutMark, Machine, Meeting, Presence, ShopClass
from projects.overview import Roll, rows_of
from projects.run_sheet_people import Person, lacks_sign_off, people_of
from projects.stands import Place

settings_at = lru_cache(maxsize=4096)(step_settings)
Cut = tuple[int, str, str]
"""A build, the key of a step, and the piece of a setting that was cut."""


def piece_key(setting: Setting, piece: Piece) -> str:
    """Return what a piece cut at a setting is known by, whatever the numbers are.

    By the piece rather than by the setting: a later reading can part a setting in two.
    """
    laid = (*piece.down, "", *piece.worked, "", *piece.against, "", piece.leads or "")
    return ":".join((setting.key, piece.part, piece.joint, ".".join(laid)))


def job_cuts(build: int, step: str, setting: Setting) -> tuple[Cut, ...]:
    """Return the pieces that a setting cuts for a build."""
    return tuple((build, step, piece_key(setting, p)) for p in setting.pieces)


@dataclass(frozen=True, kw_only=True, eq=False)
class Task:
    """One step of one student at the machine, with its settings there."""

    person: Person
    solution: Solution
    place: Place
    settings: tuple[Setting, ...]

    @property
    def step(self) -> Step:
        """The step."""
        return self.place.standing.step

    @property
    def build(self) -> int:
        """The number of the student's build."""
        return self.person.student.build

    @cached_property
    def cuts(self) -> tuple[Cut, ...]:
        """All pieces that it cuts; what waits for a dry fit too."""
        every = (job_cuts(self.build, self.step.key, s) for s in self.settings)
        return tuple(cut for found in every for cut in found)

    def is_cut(self, cut: Collection[Cut]) -> bool:
        """Tell whether all its pieces are among those that are cut."""
        return bool(self.cuts) and all(one in cut for one in self.cuts)


@dataclass(frozen=True, kw_only=True, eq=False)
class Night:
    """All that a run sheet is made from; `cut` are the pieces ticked as cut."""

    shop_class: ShopClass
    machine: Machine
    meeting: Meeting | None
    roll: Roll
    people: tuple[Person, ...]
    tasks: tuple[Task, ...]
    cut: frozenset[Cut]
    tolerances: Mapping[Name, Tolerance]

    @cached_property
    def task_of(self) -> dict[tuple[int, str], Task]:
        """The tasks by build and step."""
        return {(task.build, task.step.key): task for task in self.tasks}

    @cached_property
    def _jobs(self) -> tuple[tuple[Job, tuple[Words, ...]], ...]:
        """Each setting of a task, with what of it is more than the machine takes."""
        has = machine_has(self.machine)
        return tuple(
            (
                Job(who=task.build, step=task.step.key, setting=setting),
                beyond(task.solution, setting, has),
            )
            for task in self.tasks
            for setting in task.settings
        )

    @cached_property
    def sheet(self) -> RunSheet:
        """The fewest setups for all that the machine takes."""
        jobs = [job for job, more in self._jobs if not more]
        return run_sheet(jobs, tolerances=self.tolerances)

    @property
    def beyond(self) -> tuple[tuple[Job, tuple[Words, ...]], ...]:
        """What is more than the machine takes, so on no setup, and why."""
        return tuple((job, more) for job, more in self._jobs if more)

    @cached_property
    def cuttable(self) -> frozenset[Cut]:
        """What can be ticked: the pieces of steps that are open."""
        tasks = (task for task in self.tasks if task.place.standing.is_open)
        return frozenset(cut for task in tasks for cut in task.cuts)


def meeting_for(shop_class: ShopClass, number: str, *, now: datetime) -> Meeting | None:
    """Return the meeting asked for, else today's; of several the one that is on.

    Costs one query.
    """
    if number.isdecimal():
        return shop_class.meetings.filter(pk=number[:18]).first()
    start = timezone.localtime(now).replace(hour=0, minute=0, second=0, microsecond=0)
    end = start.replace(hour=23, minute=59, second=59)
    today = list(shop_class.meetings.filter(starts_at__range=(start, end)))
    begun = [meeting for meeting in today if meeting.starts_at <= now]
    return begun[-1] if begun else next(iter(today), None)


def night_of(
    roll: Roll,
    machine: Machine,
    *,
    meeting: Meeting | None,
    tolerances: Mapping[Name, Tolerance],
) -> Night:
    """Return what a run sheet is made from; costs five queries, or six.

    One more where builds are on other revisions than the class.
    """
    rows = rows_of(roll)
    people = tuple(people_of(roll, rows, machine, _presences(meeting)))
    cut, today = _cuts(roll)
    return Night(
        shop_class=roll.shop_class,
        machine=machine,
        meeting=meeting,
        roll=roll,
        people=people,
        tasks=tuple(_tasks(people, machine.kind, today)),
        cut=cut,
        tolerances=tolerances,
    )


def open_counts(roll: Roll, meeting: Meeting | None) -> list[tuple[Machine, int, int]]:
    """Return each machine, how many here have a step open there, and how many lack it.

    Those lack nothing but a sign-off for it. Costs four queries, or five.
    """
    rows, presences = rows_of(roll), _presences(meeting)
    found = []
    for machine in roll.machines:
        here = [p for p in people_of(roll, rows, machine, presences) if p.is_here]
        ready = sum(bool(person.open_at(machine.kind)) for person in here)
        lack = sum(bool(lacks_sign_off(person, machine.kind)) for person in here)
        found.append((machine, ready, lack))
    return found


def _tasks(
    people: Sequence[Person], kind: str, today: frozenset[tuple[int, str]]
) -> Iterator[Task]:
    """Give what is open, and what was cut today and is done: it keeps its place."""
    for person in people:
        if not (person.is_here and person.is_signed and person.work):
            continue
        for place in person.places_at(kind):
            standing = place.standing
            kept = standing.is_done and (
                (person.student.build, standing.step.key) in today
            )
            if standing.is_open or kept:
                settings = settings_at(person.work.solution, standing.step, kind)
                yield Task(
                    person=person,
                    solution=person.work.solution,
                    place=place,
                    settings=settings,
                )


def _presences(meeting: Meeting | None) -> dict[int, str]:
    if meeting is None:
        return {}
    return dict(meeting.presences.values_list("build_id", "state"))


def _cuts(roll: Roll) -> tuple[frozenset[Cut], frozenset[tuple[int, str]]]:
    """Return what is ticked as cut, and which steps had something cut today."""
    newest: dict[Cut, bool] = {}
    today: dict[tuple[int, str], bool] = defaultdict(bool)
    rows = CutMark.objects.filter(build__in=[s.build for s in roll.students])
    for build, step, setting, done, at in rows.values_list(
        "build_id", "step", "setting", "done", "at"
    ):
        newest[build, step, setting] = done
        today[build, step] |= done and timezone.localdate(at) == roll.today
    cut = frozenset(cut for cut, done in newest.items() if done)
    return cut, frozenset(key for key, is_so in today.items() if is_so)


def newest_told(roll: Roll, meeting: Meeting | None) -> tuple[int | None, ...]:
    """Return the newest rows that a sheet tells of beyond the roll's; two queries."""
    builds = [student.build for student in roll.students]
    cuts = CutMark.objects.filter(build__in=builds)
    heard = Presence.objects.filter(meeting=meeting) if meeting else None
    return (
        cuts.aggregate(newest=Max("pk"))["newest"],
        heard.aggregate(newest=Max("pk"))["newest"] if heard is not None else None,
    )
