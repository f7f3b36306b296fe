"""An invented workshop to try the app with: three plans, one class, fourteen builds.

Everybody here is invented. `people` lists the sign-in names and passwords; two students
have not joined yet. Hanne Quillworth (hanne, pinesawglue) teaches; Adaeze Okorim
(adaeze, oakpegmark) has just begun; Jonah Brackwell (jonah, birchsawshim) is past the
dry fit. It is a class night, and the meeting is on. `machines` lists what stands in the
shop, `signing` who was signed off on what, `stages` what each student has logged,
`evening` how far they are in the steps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from django.utils import timezone

from projects import actions
from projects.demo import evening, machines, signing, term
from projects.demo.evening import Evening
from projects.demo.people import (
    ASSISTANT,
    INSTRUCTOR,
    NOT_JOINED,
    SECOND_INSTRUCTOR,
    SHOWN,
    STAFF,
    STUDENTS,
    Person,
)
from projects.demo.stages import STAGES, Entry
from projects.demo.term import Term
from projects.engine.units import read_length
from projects.models import Build, Membership, Reading, Revision, ShopClass, User
from projects.roster import shown_code

PLANS = Path(__file__).parent / "plans"
CLASS_PLAN = "hall_boot_bench"
OTHER_PLANS = ("step_stool", "tool_tray")
CLASS_TITLE = "Boot bench class, weekly"


@dataclass(frozen=True, kw_only=True)
class Demo:
    """Hold who can be shown round, and how to join.

    `sign_ins` are who they are, sign-in name and password; `pins` who signs with which
    PIN; `codes` those of the join cards that nobody has used yet.
    """

    sign_ins: list[tuple[str, str, str]]
    pins: list[tuple[str, str]]
    codes: list[str]


def load() -> Demo:
    """Write the invented class into an empty database."""
    now = timezone.now()
    dates = term.term_at(now)
    instructor, *helpers = (_sign_up(person) for person in STAFF)
    revision = _publish(instructor, CLASS_PLAN)
    for name in OTHER_PLANS:
        _publish(instructor, name)
    students = [_sign_up(person) for person in STUDENTS]
    shop_class = actions.open_class(
        instructor, title=CLASS_TITLE, revision=revision, students=students
    )
    _staff(shop_class, *helpers)
    term.enter(shop_class, dates)
    shop = signing.Shop(
        machines=machines.furnish(instructor, shop_class.shop),
        instructor=instructor,
        assistant=helpers[-1],
    )
    by_name = {student.username: student for student in students}
    signing.sign(shop, by_name, dates)
    builds = list(Build.objects.with_plan().filter(shop_class=shop_class))
    there = evening.machines_then(shop_class.shop_id, students, dates)
    tonight = Evening(term=dates, machines=there, instructor=instructor)
    for build in builds:
        _log(build, STAGES[build.student.username], dates)
        evening.mark_steps(build, tonight)
    evening.raise_hands(builds, now)
    signing.withdraw(shop, by_name, dates)
    signing.note_near_miss(shop_class, shop, dates)
    _put_on_roster(shop_class)
    return _shown()


def _shown() -> Demo:
    students = [person for person in STUDENTS if person.username in SHOWN]
    shown = (INSTRUCTOR, *students, SECOND_INSTRUCTOR, ASSISTANT)
    return Demo(
        sign_ins=[
            (f"{person.name}, {person.role}", person.username, person.password)
            for person in shown
        ],
        pins=[(person.username, person.pin) for person in STAFF],
        codes=[shown_code(code) for _name, code in NOT_JOINED],
    )


def _sign_up(person: Person) -> User:
    user = User.objects.create_user(
        person.username,
        person.name,
        person.password,
        is_instructor=person.role == "instructor",
    )
    if person.pin:
        actions.set_pin(user, person.pin)
    return user


def _publish(instructor: User, name: str) -> Revision:
    data = (PLANS / f"{name}.json").read_bytes()
    return actions.publish_plan(instructor, data)


def _staff(shop_class: ShopClass, second: User, assistant: User) -> None:
    actions.add_staff(shop_class, second, role=Membership.Role.INSTRUCTOR)
    actions.add_staff(
        shop_class,
        assistant,
        role=Membership.Role.ASSISTANT,
        rights=("may_log", "may_sign"),
    )


def _put_on_roster(shop_class: ShopClass) -> None:
    """Put on the roster who has not joined yet, with codes that can be printed here."""
    people = actions.new_people([name for name, _code in NOT_JOINED])
    for person, (_name, code) in zip(people, NOT_JOINED, strict=True):
        person.username = code
    actions.add_students(shop_class, people)


def _log(build: Build, entries: Sequence[Entry], dates: Term) -> None:
    rows: list[Reading] = []
    for n, entry in enumerate(entries):
        # stock is measured before anything is cut, the rest in the next meeting
        is_stock = entry.target.kind in ("stock", "part")
        began = dates.ago(2) if is_stock else dates.ago(1)
        at = began + timedelta(minutes=(60 if is_stock else 90) + 4 * n)
        if entry.typed is None:
            actions.set_aside(
                build,
                rows,
                by=build.student,
                target=entry.target,
                point=entry.point,
                at=at,
            )
            continue
        actions.log_reading(
            build,
            rows,
            by=build.student,
            target=entry.target,
            point=entry.point,
            length=read_length(entry.typed, unit="in"),
            typed=entry.typed,
            at=at,
            instrument=entry.instrument,
            keep=entry.keep,
        )
