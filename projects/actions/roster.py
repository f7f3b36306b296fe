"""Putting students on a roster and off it, and joining with a card."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.utils import timezone

from projects.actions.classes import enrol
from projects.models import Membership, ShopClass, User


@transaction.atomic
def add_students(shop_class: ShopClass, students: Sequence[User]) -> None:
    """Put students into a class, each with a build; who is new is saved with it."""
    for student in students:
        if student.pk is None:
            student.save()
        enrol(shop_class, student)


def rename(person: User, name: str) -> None:
    """Call somebody by another name, in all their classes."""
    person.name = name
    person.save(update_fields=["name"])


def leave_class(student: Membership) -> None:
    """Record that a student has left; what was measured and signed stays."""
    student.left_at = timezone.now()
    student.save(update_fields=["left_at"])


def return_to_class(student: Membership) -> None:
    """Let a student who has left go on where they were."""
    student.left_at = None
    student.save(update_fields=["left_at"])


def choose_pin(person: User, pin: str) -> bool:
    """Keep the PIN that somebody chose who has joined with their card.

    False where somebody else was quicker, or the card was voided meanwhile; nothing is
    changed then.
    """
    # slow on purpose, so it is done before the row is taken
    hashed = make_password(pin)
    as_seen = User.objects.filter(
        pk=person.pk, username=person.username, password=person.password
    )
    return as_seen.update(password=hashed) == 1
