"""What people do: each verb checks, then writes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.advice import (
    SecondLook,
    Target,
    expected_mm,
    second_looks,
)
from projects.engine.fit.solve import Solution, check_plan, solve
from projects.engine.plan.reader import read_plan
from projects.engine.units import Length
from projects.models import (
    Build,
    BuildMove,
    Membership,
    Plan,
    Reading,
    Revision,
    ShopClass,
    User,
)
from projects.roster import first_password, sign_in_name


class SecondLookError(EngineError):
    """Ask for a second look at a reading before it is kept."""

    def __init__(self, looks: Sequence[SecondLook]) -> None:
        self.looks = tuple(looks)
        super().__init__("this reading deserves a second look")


def log_reading(
    build: Build,
    rows: list[Reading],
    *,
    by: User,
    target: Target,
    point: int,
    length: Length,
    typed: str,
    instrument: str,
    keep: bool = False,
    at: datetime | None = None,
) -> Solution:
    """Record a reading of `target` at `point`, taken `at` or now.

    Returns the build solved with it.
    `rows` are the build's readings so far and grow by the new one. Raises
    `SecondLookError` for an implausible reading unless `keep`, and `EngineError`
    for one with which the piece can't be built at all; nothing is written then.
    """
    before = _solved(build, rows)
    others = [
        adapters.engine_reading(row)
        for row in adapters.current_rows(rows)
        if row.target == str(target) and row.point != point
    ]
    looks = second_looks(
        length.mm,
        expected_mm=expected_mm(target, before) if before else None,
        others=others,
    )
    if looks and not keep:
        raise SecondLookError(looks)
    row = Reading(
        build=build,
        target=str(target),
        point=point,
        typed=typed,
        mm=length.mm,
        unit=length.unit,
        instrument=instrument,
        kept_after_second_look=bool(looks),
        at=at or timezone.now(),
        by=by,
    )
    return _append(build, rows, row)


def set_aside(
    build: Build,
    rows: list[Reading],
    *,
    by: User,
    target: Target,
    point: int,
    at: datetime | None = None,
) -> Solution:
    """Record that a point no longer counts; the reading itself stays in the history.

    Raises `EngineError` where there is no such reading, or where the piece can't be
    built without it.
    """
    if not any(
        (row.target, row.point) == (str(target), point)
        for row in adapters.current_rows(rows)
    ):
        raise EngineError("there is no reading here that counts")
    row = Reading(
        build=build,
        target=str(target),
        point=point,
        mm=None,
        unit="",
        instrument=Reading.Instrument.TAPE,
        at=at or timezone.now(),
        by=by,
    )
    return _append(build, rows, row)


def _solved(build: Build, rows: list[Reading]) -> Solution | None:
    """Return the build solved; None where its readings can't all be right.

    Two phones can log at one moment what only together is impossible.
    """
    try:
        return adapters.solve_build(build, rows)
    except EngineError:
        return None


def _append(build: Build, rows: list[Reading], row: Reading) -> Solution:
    """Write the row where the build can be solved with it: one statement, so whole."""
    solution = adapters.solve_build(build, [*rows, row])
    row.save()
    rows.append(row)
    return solution


@transaction.atomic
def publish_plan(by: User, data: bytes, *, plan: Plan | None = None) -> Revision:
    """Publish a plan file: as a new plan, or as the next revision of `plan`.

    Raises `EngineError` telling all that is wrong with the file; nothing is written
    then.
    """
    read = read_plan(data)
    check_plan(read)
    if plan is None:
        plan = Plan(owner=by)
    plan.title = read.title
    plan.save()
    newest = plan.revisions.order_by("number").last()
    return Revision.objects.create(
        plan=plan,
        number=newest.number + 1 if newest else 1,
        document=data.decode(),
        published_at=timezone.now(),
        published_by=by,
    )


@dataclass(frozen=True, kw_only=True)
class NewSignIn:
    """Hold a new student's sign-in: the password is shown once and kept nowhere."""

    user: User
    password: str


def add_students(names: Sequence[str]) -> list[NewSignIn]:
    """Make a person for each name, with a sign-in name and a first password."""
    taken = set(User.objects.values_list("username", flat=True))
    made = []
    for name in names:
        username = sign_in_name(name, taken)
        taken.add(username)
        password = first_password()
        user = User.objects.create_user(username, name, password)
        made.append(NewSignIn(user=user, password=password))
    return made


@transaction.atomic
def open_class(
    by: User, *, title: str, revision: Revision, students: Sequence[User]
) -> ShopClass:
    """Open a class taught by `by`, with a build of `revision` for each student."""
    made = ShopClass.objects.create(title=title, revision=revision)
    Membership.objects.create(shop_class=made, user=by, role=Membership.Role.INSTRUCTOR)
    for student in students:
        enrol(made, student)
    return made


def enrol(shop_class: ShopClass, student: User) -> Build:
    """Put a student into a class, with a build of the class's revision."""
    Membership.objects.create(
        shop_class=shop_class, user=student, role=Membership.Role.STUDENT
    )
    return Build.objects.create(
        shop_class=shop_class, student=student, revision=shop_class.revision
    )


@transaction.atomic
def move_builds(
    shop_class: ShopClass, builds: Sequence[Build], revision: Revision, *, by: User
) -> None:
    """Move builds of a class to another revision, and keep that it was done.

    Whoever joins the class later starts on that revision too. Raises `EngineError`
    where the readings of one can't be built from it; no build is moved then.
    """
    plan = adapters.plan_of(revision)
    for build in builds:
        solve(plan, adapters.readings_of(plan, build.readings.all()))
        BuildMove.objects.create(
            build=build,
            old=build.revision,
            new=revision,
            at=timezone.now(),
            by=by,
        )
        build.revision = revision
        build.save(update_fields=["revision"])
    if builds:
        shop_class.revision = revision
        shop_class.save(update_fields=["revision"])
