"""Opening classes, putting students in, moving their builds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.utils import timezone

from projects import adapters
from projects.engine.fit.solve import solve
from projects.models import Build, BuildMove, Membership, Revision, ShopClass, User
from projects.roster import first_password, sign_in_name


@dataclass(frozen=True, kw_only=True)
class NewSignIn:
    """Hold a new student's sign-in: the password is shown once and kept nowhere."""

    user: User
    password: str


def new_sign_ins(names: Sequence[str]) -> list[NewSignIn]:
    """Return a person for each name, not saved yet, with a first password.

    Hashing passwords is slow on purpose, so it is done before the database is locked.
    """
    taken = set(User.objects.values_list("username", flat=True))
    made = []
    for name in names:
        username = sign_in_name(name, taken)
        taken.add(username)
        password = first_password()
        user = User(username=username, name=name, password=make_password(password))
        made.append(NewSignIn(user=user, password=password))
    return made


def new_password(student: User) -> NewSignIn:
    """Give a student a new random password in place of a lost one."""
    password = first_password()
    student.set_password(password)
    student.save(update_fields=["password"])
    return NewSignIn(user=student, password=password)


@transaction.atomic
def open_class(
    by: User, *, title: str, revision: Revision, students: Sequence[User]
) -> ShopClass:
    """Open a class taught by `by`, with a build of `revision` for each student.

    Students who are new are saved with it.
    """
    made = ShopClass.objects.create(title=title, revision=revision)
    Membership.objects.create(shop_class=made, user=by, role=Membership.Role.INSTRUCTOR)
    for student in students:
        if student.pk is None:
            student.save()
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
    with transaction.atomic():
        for build in builds:
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
