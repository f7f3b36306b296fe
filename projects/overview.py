"""Where every student of a class stands: a few queries, whatever the class's size.

Rows are fetched as tuples, and what the engine makes of them is kept: a student for
whom nothing changed is not solved anew.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property, lru_cache
from hashlib import blake2b
from typing import Any, NamedTuple

from django.db.models import Exists, F, Model, OuterRef, Q, Subquery
from django.utils import timezone

from projects import adapters, signoffs, ways_out
from projects.engine.plan.records import Plan
from projects.models import (
    CheckTaken,
    Hand,
    Machine,
    Meeting,
    Reading,
    RequirementRecord,
    Revision,
    ShopClass,
    SignOff,
    StepMark,
)
from projects.stands import Said, Stand, stand_of

COARSE = timedelta(minutes=10)
"""How coarsely the page tells how long ago something was."""
_DAY = timedelta(days=1)


class Student(NamedTuple):
    """One student who is present, and the newest of all that the row tells.

    Numbers are of rows: of the build, of its newest reading and so on.
    """

    build: int
    student: int
    name: str
    revision: int
    let_give: str
    is_behind: bool
    miscut: str | None
    reading: int | None
    mark: int | None
    sign_off: int | None
    hand_raised: bool | None
    hand_note: str | None
    hand_at: datetime | None
    check_at: datetime | None
    record_at: datetime | None


@dataclass(frozen=True, kw_only=True)
class Roll:
    """Who is in a class and what its shop has: enough to tell whether all is as it was.

    `shop_class` comes from a gate, with the rights of who looks.
    """

    shop_class: ShopClass
    students: tuple[Student, ...]
    machines: tuple[Machine, ...]
    now: datetime

    @cached_property
    def token(self) -> str:
        """Return what changes with whatever a row tells.

        It changes every ten minutes for the times, and at midnight for what lapses.
        """
        told = (
            self.students,
            [(machine.pk, machine.kind, machine.name) for machine in self.machines],
            self.may_sign,
            self.today,
            int(self.now.timestamp() // COARSE.total_seconds()),
        )
        return blake2b(repr(told).encode(), digest_size=8).hexdigest()

    @property
    def today(self) -> date:
        """The day on the shop's calendar."""
        return timezone.localdate(self.now)

    @property
    def may_sign(self) -> bool:
        """Tell whether who looks may sign off in this class."""
        is_open = self.shop_class.archived_at is None
        return is_open and bool(getattr(self.shop_class, "may_sign", False))

    @property
    def listed(self) -> frozenset[str]:
        """The kinds of machine the shop has."""
        return frozenset(machine.kind for machine in self.machines)


class SignOffState(NamedTuple):
    """Where a student stands with one machine, and the day a sign-off lapses on."""

    state: signoffs.State
    lapses_on: date | None


@dataclass(frozen=True, kw_only=True)
class Rows:
    """What was logged, marked and signed in a class, by build or by student."""

    plans: Mapping[int, Plan]
    readings: Mapping[int, tuple[Said, ...]]
    done: Mapping[int, frozenset[str]]
    sign_offs: Mapping[int, Mapping[int, SignOffState]]
    seen: Mapping[int, datetime]

    def plan_of(self, student: Student) -> Plan:
        """Return the plan that one student builds, as agreed for the build."""
        return adapters.plan_as_agreed(self.plans[student.revision], student.let_give)


def roll_of(shop_class: ShopClass, *, now: datetime) -> Roll:
    """Return who is in a class and what its shop has; costs two queries."""
    students = tuple(Student(*row) for row in _students(shop_class))
    machines = tuple(
        Machine.objects.filter(shop=shop_class.shop_id, retired_at=None).only(
            "shop_id", "kind", "name"
        )
    )
    return Roll(shop_class=shop_class, students=students, machines=machines, now=now)


def _students(shop_class: ShopClass) -> Iterable[tuple[Any, ...]]:
    """Return the fields of `Student` of everybody present, by name."""
    sign_offs = Q(machine__shop=shop_class.shop_id)
    by_student = Q(by=OuterRef("student"))
    newer = Revision.objects.filter(
        plan=OuterRef("revision__plan"), number__gt=OuterRef("revision__number")
    )
    return (
        shop_class.builds.present()
        .annotate(
            name=F("student__name"),
            is_behind=Exists(newer),
            miscut=Subquery(
                ways_out.waiting()
                .filter(build=OuterRef("pk"))
                .order_by("pk")
                .values("reading__target")[:1]
            ),
            reading=_newest(Reading, "pk"),
            mark=_newest(StepMark, "pk"),
            sign_off=_newest(SignOff, "pk", sign_offs, of="student"),
            hand_raised=_newest(Hand, "raised"),
            hand_note=_newest(Hand, "note"),
            hand_at=_newest(Hand, "at"),
            check_at=_newest(CheckTaken, "at", of="student"),
            record_at=_newest(RequirementRecord, "at", by_student, of="student"),
        )
        .values_list("pk", "student_id", "name", "revision_id", *Student._fields[4:])
    )


def _newest(model: type[Model], field: str, *where: Q, of: str = "build") -> Subquery:
    """Return a field of the newest row of a build, or of its student."""
    key = OuterRef("student" if of == "student" else "pk")
    rows = model._default_manager.filter(*where, **{of: key})
    return Subquery(rows.order_by("-pk").values(field)[:1])


def rows_of(roll: Roll) -> Rows:
    """Return what was logged, marked and signed in a class; costs three queries.

    One more where builds are on other revisions than the class.
    """
    builds = [student.build for student in roll.students]
    readings: dict[int, list[Said]] = defaultdict(list)
    seen = {
        student.build: max(times)
        for student in roll.students
        if (times := [at for at in student[-3:] if isinstance(at, datetime)])
    }
    logged = Reading.objects.filter(build__in=builds)
    for build, at, *said in logged.values_list("build_id", "at", *Said._fields):
        readings[build].append(Said(*said))
        seen[build] = max(seen.get(build, at), at)
    done: dict[int, dict[str, bool]] = defaultdict(dict)
    marks = StepMark.objects.filter(build__in=builds)
    for build, at, step, is_done in marks.values_list("build_id", "at", "step", "done"):
        done[build][step] = is_done
        seen[build] = max(seen.get(build, at), at)
    return Rows(
        plans=_plans(roll),
        readings={build: tuple(rows) for build, rows in readings.items()},
        done={
            build: frozenset(step for step, is_done in steps.items() if is_done)
            for build, steps in done.items()
        },
        sign_offs=_sign_offs(roll),
        seen=seen,
    )


def _plans(roll: Roll) -> dict[int, Plan]:
    """Return the plans that are built, by the number of their revision."""
    own = roll.shop_class.revision
    others = {student.revision for student in roll.students} - {own.pk}
    found = Revision.objects.in_bulk(others) if others else {}
    return {pk: adapters.plan_of(row) for pk, row in {**found, own.pk: own}.items()}


def _sign_offs(roll: Roll) -> dict[int, dict[int, SignOffState]]:
    """Return where each student stands with the machines they have a record of."""
    rows = SignOff.objects.filter(
        student__in=[student.student for student in roll.students],
        machine__in=[machine.pk for machine in roll.machines],
    )
    newest: dict[int, dict[int, tuple[str, date | None]]] = defaultdict(dict)
    for student, machine, act, lapses_on in rows.values_list(
        "student_id", "machine_id", "act", "lapses_on"
    ):
        newest[student][machine] = (act, lapses_on)
    return {
        student: {
            machine: _state(act, lapses_on, roll.today)
            for machine, (act, lapses_on) in by_machine.items()
        }
        for student, by_machine in newest.items()
    }


@lru_cache(maxsize=256)
def _state(act: str, lapses_on: date | None, today: date) -> SignOffState:
    row = SignOff(act=act, lapses_on=lapses_on)
    return SignOffState(signoffs.standing(row, today=today).state, lapses_on)


def stand(roll: Roll, rows: Rows, student: Student) -> Stand:
    """Return where one student's build stands; costs no query."""
    states = rows.sign_offs.get(student.student, {})
    return stand_of(
        rows.plan_of(student),
        rows.readings.get(student.build, ()),
        done=rows.done.get(student.build, frozenset()),
        listed=roll.listed,
        signed=frozenset(
            machine.kind
            for machine in roll.machines
            if machine.pk in states and states[machine.pk].state == "signed"
        ),
    )


def next_meeting(shop_class: ShopClass, *, now: datetime) -> Meeting | None:
    """Return the meeting that is on or comes next; costs one query."""
    meetings = shop_class.meetings.filter(starts_at__gte=now - _DAY)
    return next(
        (
            meeting
            for meeting in meetings[:10]
            if meeting.starts_at + timedelta(minutes=meeting.minutes) > now
        ),
        None,
    )
