"""The rows of everything recorded about a class; each function costs one query."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from projects.models import (
    BuildMove,
    CheckTaken,
    Decision,
    MeetingPlan,
    Membership,
    Presence,
    RequirementRecord,
    ShopClass,
    SignOff,
)


def of_builds(manager: Any) -> Callable[[ShopClass], QuerySet[Any]]:
    """Return the rows of `manager` that hang on the builds of a class."""

    def rows(shop_class: ShopClass) -> QuerySet[Any]:
        found: QuerySet[Any] = manager.filter(build__shop_class=shop_class)
        return found.select_related("build__student", "by")

    return rows


def students(shop_class: ShopClass) -> QuerySet[Any]:
    """Return everybody who is or was a student of the class."""
    found = shop_class.memberships.filter(role=Membership.Role.STUDENT)
    return found.values("user")


def members(shop_class: ShopClass) -> QuerySet[Any]:
    """Return everybody who is or was in the class."""
    return shop_class.memberships.select_related("user").order_by("role", "pk")


def builds(shop_class: ShopClass) -> QuerySet[Any]:
    """Return the builds of the class."""
    return shop_class.builds.select_related("student", "revision__plan")


def moves(shop_class: ShopClass) -> QuerySet[Any]:
    """Return the moves of its builds to other revisions."""
    found = BuildMove.objects.filter(build__shop_class=shop_class)
    return found.select_related("build__student", "by", "old__plan", "new__plan")


def requirements(shop_class: ShopClass) -> QuerySet[Any]:
    """Return what its students met for the machines of its shop."""
    found = RequirementRecord.objects.filter(
        student__in=students(shop_class),
        requirement__machine__shop=shop_class.shop_id,
    )
    return found.select_related("student", "by", "requirement__machine")


def checks(shop_class: ShopClass) -> QuerySet[Any]:
    """Return the written checks that its students took for the machines of its shop."""
    found = CheckTaken.objects.filter(
        student__in=students(shop_class), machine__shop=shop_class.shop_id
    )
    return found.select_related("student", "machine")


def sign_offs(shop_class: ShopClass) -> QuerySet[Any]:
    """Return its students' sign-offs on the machines of its shop."""
    found = SignOff.objects.filter(
        student__in=students(shop_class), machine__shop=shop_class.shop_id
    )
    return found.select_related("student", "machine", "by")


def meetings(shop_class: ShopClass) -> QuerySet[Any]:
    """Return its meetings."""
    return shop_class.meetings.all()


def presences(shop_class: ShopClass) -> QuerySet[Any]:
    """Return who was at its meetings."""
    found = Presence.objects.filter(build__shop_class=shop_class)
    return found.select_related("build__student", "by", "meeting")


def meeting_plans(shop_class: ShopClass) -> QuerySet[Any]:
    """Return who was to do what at its meetings."""
    found = MeetingPlan.objects.filter(meeting__shop_class=shop_class)
    return found.select_related("by", "meeting")


def run_sheets(shop_class: ShopClass) -> QuerySet[Any]:
    """Return its run sheets."""
    return shop_class.run_sheets.select_related("by", "machine")


def decisions(shop_class: ShopClass) -> QuerySet[Any]:
    """Return what was decided on its students' ways out."""
    found = Decision.objects.filter(way_out__build__shop_class=shop_class)
    return found.select_related("by")


def near_misses(shop_class: ShopClass) -> QuerySet[Any]:
    """Return its log of near misses."""
    return shop_class.near_misses.select_related("machine", "by").order_by("pk")


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One question of a written check somebody took, and what they answered."""

    check: int
    number: int
    question: str
    given: str | None
    answer: str
    is_right: bool
    why: str
    source: str


def answers(shop_class: ShopClass) -> Iterator[Answer]:
    """Give the questions of its students' checks, with what was answered."""
    for taken in checks(shop_class):
        for number, asked in enumerate(taken.answers, start=1):
            choices, given = asked["choices"], asked["given"]
            yield Answer(
                check=taken.pk,
                number=number,
                question=asked["text"],
                given=None if given is None else choices[given],
                answer=choices[asked["right"]],
                is_right=given == asked["right"],
                why=asked["why"],
                source=asked["source"],
            )
