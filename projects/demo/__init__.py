"""An invented workshop to try the app with: three plans, one class, twelve builds.

Everybody here is invented. All can sign in; `people` lists the sign-in names and
passwords. Hanne Quillworth (hanne, pinesawglue) teaches; Adaeze Okorim (adaeze,
oakpegmark) has just begun; Jonah Brackwell (jonah, birchsawshim) is past the dry fit.
What each student has logged stands in `stages`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from django.utils import timezone

from projects import actions
from projects.demo.people import INSTRUCTOR, SHOWN, STUDENTS, Person
from projects.demo.stages import STAGES, Entry
from projects.engine.units import read_length
from projects.models import Build, Reading, Revision, User

PLANS = Path(__file__).parent / "plans"
CLASS_PLAN = "hall_boot_bench"
OTHER_PLANS = ("step_stool", "tool_tray")
CLASS_TITLE = "Boot bench class, Thursday evenings"


@dataclass(frozen=True, kw_only=True)
class Demo:
    """Hold who can be shown round: who they are, sign-in name and password."""

    sign_ins: list[tuple[str, str, str]]


def load() -> Demo:
    """Write the invented class into an empty database."""
    instructor = _sign_up(INSTRUCTOR, is_instructor=True)
    revision = _publish(instructor, CLASS_PLAN)
    for name in OTHER_PLANS:
        _publish(instructor, name)
    students = [_sign_up(person) for person in STUDENTS]
    shop_class = actions.open_class(
        instructor, title=CLASS_TITLE, revision=revision, students=students
    )
    for build in Build.objects.with_plan().filter(shop_class=shop_class):
        _log(build, STAGES[build.student.username])
    shown = (INSTRUCTOR, *(person for person in STUDENTS if person.username in SHOWN))
    return Demo(
        sign_ins=[
            (f"{person.name}, {person.role}", person.username, person.password)
            for person in shown
        ]
    )


def _sign_up(person: Person, *, is_instructor: bool = False) -> User:
    return User.objects.create_user(
        person.username, person.name, person.password, is_instructor=is_instructor
    )


def _publish(instructor: User, name: str) -> Revision:
    data = (PLANS / f"{name}.json").read_bytes()
    return actions.publish_plan(instructor, data)


def _log(build: Build, entries: tuple[Entry, ...]) -> None:
    rows: list[Reading] = []
    for n, entry in enumerate(entries):
        at = _meeting(entry) + n * timedelta(minutes=4)
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


def _meeting(entry: Entry) -> datetime:
    """Return when the meeting began: stock is measured in the first, the rest later."""
    weeks = 2 if entry.target.fact is None else 1
    return timezone.now() - timedelta(weeks=weeks, hours=2)
