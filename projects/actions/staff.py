"""Who teaches and who helps in a class."""

from __future__ import annotations

from collections.abc import Collection

from django.db import transaction
from django.utils import timezone

from projects.actions.classes import new_people
from projects.models import RIGHTS, Membership, Right, ShopClass, User


class LastInstructorError(ValueError):
    """Tell that a class would be left with nobody who teaches it."""


class AlreadyInClassError(ValueError):
    """Tell that somebody is in the class already, as what `membership` says."""

    def __init__(self, membership: Membership) -> None:
        self.membership = membership
        super().__init__("already in this class")


@transaction.atomic
def add_staff(
    shop_class: ShopClass,
    person: User,
    *,
    role: Membership.Role,
    rights: Collection[Right] = (),
) -> Membership:
    """Let somebody teach or help in a class; an instructor has every right anyway.

    Who was on the staff before comes back. Raises `AlreadyInClassError` for who is in
    the class now, and for who was or is a student there, as their build hangs on it.
    """
    if person.pk is None:
        person.save()
    membership = Membership.objects.filter(shop_class=shop_class, user=person).first()
    if membership is None:
        membership = Membership(shop_class=shop_class, user=person)
    elif membership.left_at is None or membership.role == Membership.Role.STUDENT:
        raise AlreadyInClassError(membership)
    membership.role = role
    membership.left_at = None
    _give(membership, rights if role == Membership.Role.ASSISTANT else ())
    return membership


def add_assistant(
    shop_class: ShopClass, name: str, *, rights: Collection[Right]
) -> Membership:
    """Let somebody new help in a class: they join with a join card."""
    (person,) = new_people([name])
    role = Membership.Role.ASSISTANT
    return add_staff(shop_class, person, role=role, rights=rights)


def give_rights(assistant: Membership, rights: Collection[Right]) -> None:
    """Let an assistant do exactly this."""
    _give(assistant, rights)


@transaction.atomic
def end_part(membership: Membership) -> None:
    """Record that somebody no longer teaches or helps; what they wrote stays.

    Raises `LastInstructorError` where nobody would teach the class any more.
    """
    # two instructors may end each other's part at one moment
    teaching = list(
        Membership.objects.select_for_update()
        .present()
        .filter(shop_class=membership.shop_class_id, role=Membership.Role.INSTRUCTOR)
    )
    if [other.pk for other in teaching] == [membership.pk]:
        raise LastInstructorError
    membership.left_at = timezone.now()
    membership.save(update_fields=["left_at"])


def _give(membership: Membership, rights: Collection[Right]) -> None:
    for right in RIGHTS:
        setattr(membership, right, right in rights)
    membership.save()
