"""Opening classes, putting students in, moving their builds."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from projects import adapters
from projects.engine.fit.solve import solve
from projects.models import (
    Build,
    BuildMove,
    Membership,
    Revision,
    Shop,
    ShopClass,
    User,
)
from projects.roster import new_code


def new_people(names: Sequence[str]) -> list[User]:
    """Return a person for each name, not saved yet: a join card's code, no PIN."""
    taken = set(User.objects.values_list("username", flat=True))
    made = []
    for name in names:
        user = User(username=new_code(taken), name=name)
        user.set_unusable_password()
        taken.add(user.username)
        made.append(user)
    return made


def new_card(person: User) -> None:
    """Give somebody another join card: the old code and the PIN stop working.

    Whoever is signed in by the old one is signed out, as sessions hang on the password.
    """
    taken = set(User.objects.values_list("username", flat=True))
    person.username = new_code(taken)
    person.set_unusable_password()
    person.save(update_fields=["username", "password"])


@transaction.atomic
def open_class(
    by: User, *, title: str, revision: Revision, students: Sequence[User]
) -> ShopClass:
    """Open a class taught by `by`, with a build of `revision` for each student.

    Students who are new are saved with it.
    """
    shop, _made = Shop.objects.get_or_create(owner=by)
    made = ShopClass.objects.create(title=title, revision=revision, shop=shop)
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
