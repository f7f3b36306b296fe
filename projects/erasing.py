"""Erase a class, or one student of it, with everything recorded about them.

This is the one exception to "only ever added to". The record is append-only so that
nobody makes it say something else than it said; a person's right to be forgotten is
another matter: their rows go whole, in one transaction, and no row is changed. The
database's triggers refuse UPDATE and let this pass. The rows that are deleted here go
through plain query sets, as the models' own refuse; nothing else may do that.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.contrib.sessions.models import Session
from django.db import models, transaction

from projects.actions import new_card
from projects.models import (
    Build,
    CheckTaken,
    Hand,
    Membership,
    Reading,
    RequirementRecord,
    ShopClass,
    SignOff,
    StepMark,
    User,
)
from projects.roster import shown_code


@dataclass(frozen=True, kw_only=True)
class Stake:
    """What would be erased, counted.

    `people` are those about whom it is, `staying` those of them who have an account of
    their own or are in another class, `signed_here` those in another class of the shop.
    """

    people: int
    staying: int
    signed_here: int
    readings: int
    steps: int
    hands: int
    sign_offs: int
    checks: int
    near_misses: int = 0
    meetings: int = 0


def stake_of_class(shop_class: ShopClass) -> Stake:
    """Return what `erase_class` would erase; costs the same queries for any class."""
    people = _people_of(shop_class.memberships.all())
    return _stake(
        shop_class,
        people,
        shop_class.builds.all(),
        near_misses=shop_class.near_misses.count(),
        meetings=shop_class.meetings.count(),
    )


def stake_of_student(membership: Membership) -> Stake:
    """Return what `erase_student` would erase."""
    builds = Build.objects.filter(
        shop_class=membership.shop_class, student=membership.user_id
    )
    return _stake(membership.shop_class, {membership.user_id}, builds)


def _stake(
    shop_class: ShopClass,
    people: set[int],
    builds: models.QuerySet[Build],
    **more: int,
) -> Stake:
    elsewhere = Membership.objects.exclude(shop_class=shop_class).filter(
        user__in=people
    )
    in_shop = _users(elsewhere.filter(shop_class__shop=shop_class.shop_id))
    own = User.objects.filter(pk__in=people, is_instructor=True)
    staying = _users(elsewhere) | set(own.values_list("pk", flat=True))
    here = models.Q(student__in=people - in_shop)
    of_shop = here & models.Q(machine__shop=shop_class.shop_id)
    wholly = models.Q(student__in=people - staying)
    return Stake(
        people=len(people),
        staying=len(staying),
        signed_here=len(in_shop),
        readings=Reading.objects.filter(build__in=builds).count(),
        steps=StepMark.objects.filter(build__in=builds).count(),
        hands=Hand.objects.filter(build__in=builds).count(),
        sign_offs=SignOff.objects.filter(of_shop | wholly).count(),
        checks=CheckTaken.objects.filter(of_shop | wholly).count(),
        **more,
    )


def _users(memberships: models.QuerySet[Membership]) -> set[int]:
    return set(memberships.values_list("user", flat=True))


@transaction.atomic
def erase_class(shop_class: ShopClass) -> None:
    """Erase a class and whoever is in no other; plans, the shop and its staff stay."""
    this = ShopClass.objects.select_for_update().filter(pk=shop_class.pk)
    this.get()
    people = _people_of(shop_class.memberships.all())
    _erase(_rows(ShopClass, pk=shop_class.pk))
    _erase_records(people, shop_class)
    _erase_people(people)


@transaction.atomic
def erase_student(membership: Membership) -> None:
    """Erase one student's part in a class; the student too, if in no other class.

    Run sheets and meeting plans of the class keep the bare number of the build that
    is gone; it leads to nobody any more.
    """
    shop_class = membership.shop_class
    ShopClass.objects.select_for_update().get(pk=shop_class.pk)
    people = _people_of(Membership.objects.filter(pk=membership.pk))
    _erase(_rows(Build, shop_class=shop_class, student=membership.user_id))
    membership.delete()
    _erase_records(people, shop_class)
    _erase_people(people)


def _people_of(memberships: models.QuerySet[Membership]) -> set[int]:
    """Return the people these are about; not those who teach the class."""
    taught = memberships.exclude(role=Membership.Role.INSTRUCTOR)
    return _users(taught)


def _rows(model: type[models.Model], **which: Any) -> models.QuerySet[Any]:
    """Return rows by a plain query set: the one that deletes append-only rows."""
    return models.QuerySet(model).filter(**which)


def _erase(rows: models.QuerySet[Any]) -> None:
    """Erase rows, and first all that hangs on them, of whatever model."""
    if rows.exists():
        for relation in _relations_to(rows.model):
            hanging = {f"{relation.field.name}__in": rows.values("pk")}
            _erase(_rows(relation.related_model, **hanging))
        rows.delete()


def _relations_to(model: type[models.Model]) -> list[models.ForeignObjectRel]:
    """Return how other rows name a model's rows.

    Many-to-many relations are left out: their own rows are a relation here too.
    """
    return [
        relation
        for relation in model._meta.get_fields(include_hidden=True)
        if isinstance(relation, models.ForeignObjectRel) and not relation.many_to_many
    ]


def _erase_records(people: Collection[int], shop_class: ShopClass) -> None:
    """Erase what the class's shop recorded of students that it has no class of now."""
    of_shop = Membership.objects.filter(shop_class__shop=shop_class.shop_id)
    gone = set(people) - _users(of_shop.filter(user__in=people))
    shop = shop_class.shop_id
    _rows(SignOff, student__in=gone, machine__shop=shop).delete()
    _rows(CheckTaken, student__in=gone, machine__shop=shop).delete()
    _rows(RequirementRecord, student__in=gone, requirement__machine__shop=shop).delete()


def _erase_people(people: Collection[int]) -> None:
    """Erase those who are in no class any more and have no account of their own.

    Somebody that a record of others still names, such as an assistant who signed off a
    student of another class, stays by name alone: that record needs its signer.
    """
    gone = set(
        User.objects.filter(
            pk__in=people, is_instructor=False, memberships=None
        ).values_list("pk", flat=True)
    )
    for model in (SignOff, CheckTaken, RequirementRecord):
        _rows(model, student__in=gone).delete()
    named = _named_among(gone)
    _erase_sign_ins(gone)
    for person in User.objects.filter(pk__in=named):
        person.pin = ""
        person.save(update_fields=["pin"])
        new_card(person)  # neither the old card nor the PIN opens anything
    User.objects.filter(pk__in=gone - named).delete()


def _named_among(people: Collection[int]) -> set[int]:
    """Return who of these any row still names; a query a relation, whoever they are."""
    named: set[int] = set()
    for relation in _relations_to(User):
        field = relation.field.name
        rows = _rows(relation.related_model, **{f"{field}__in": people})
        named.update(rows.values_list(field, flat=True))
    return named


def _erase_sign_ins(people: Collection[int]) -> None:
    """Forget failed sign-ins with these people's codes, and end their sessions."""
    codes = User.objects.filter(pk__in=people).values_list("username", flat=True)
    tried = {name for code in codes for name in (code, shown_code(code))}
    for model in (AccessAttempt, AccessFailureLog, AccessLog):
        model.objects.filter(username__in=tried).delete()
    numbers = {str(number) for number in people}
    ended = [
        session.pk
        for session in Session.objects.iterator()
        if session.get_decoded().get("_auth_user_id") in numbers
    ]
    Session.objects.filter(pk__in=ended).delete()
