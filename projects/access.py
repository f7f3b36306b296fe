"""Gates: each fetches what a person may reach, or answers 404.

A 404 rather than a 403, so that nobody learns which numbers exist.
"""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.db.models import Q
from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from projects.models import (
    Build,
    Draft,
    Machine,
    Meeting,
    Membership,
    Plan,
    PlanPicture,
    Right,
    ShopClass,
    User,
)


def signed_in(request: HttpRequest) -> User:
    """Return who is signed in; views call it behind `login_required`."""
    user = request.user
    if not isinstance(user, User):
        raise PermissionDenied
    return user


def get_build(request: HttpRequest, pk: int) -> Build:
    """Return a build of the student's own, or of a class somebody helps to run."""
    builds = Build.objects.open_to(signed_in(request)).with_plan()
    return get_object_or_404(builds, pk=pk)


def get_build_to_log(request: HttpRequest, pk: int) -> Build:
    """Return a build that somebody may log readings and steps in.

    403 for an assistant who was not given that, and in an archived class.
    """
    writable = Build.objects.written_by(signed_in(request)).with_plan()
    build = writable.filter(pk=pk).first()
    if build is None:
        get_build(request, pk)  # a 404 for who may not even see it
        raise PermissionDenied
    return build


def get_class_taught(request: HttpRequest, pk: int) -> ShopClass:
    """Return a class that the instructor teaches, with rights for the template."""
    user = signed_in(request)
    classes = ShopClass.objects.taught_by(user).with_rights_of(user)
    return get_object_or_404(classes.select_related("revision__plan"), pk=pk)


def get_class_staffed(
    request: HttpRequest, pk: int, right: Right | None = None
) -> ShopClass:
    """Return a class that somebody teaches or helps in, with rights for the template.

    403 for an assistant who was not given `right`.
    """
    user = signed_in(request)
    classes = ShopClass.objects.staffed_by(user).with_rights_of(user)
    shop_class = get_object_or_404(classes.select_related("revision__plan"), pk=pk)
    if right and not getattr(shop_class, right):
        raise PermissionDenied
    return shop_class


def get_meeting_staffed(
    request: HttpRequest, pk: int, right: Right | None = None
) -> Meeting:
    """Return a meeting of a class somebody teaches or helps in.

    Its `shop_class` has rights for the template; 403 as `get_class_staffed`.
    """
    meeting = get_object_or_404(Meeting, pk=pk)
    meeting.shop_class = get_class_staffed(request, meeting.shop_class_id, right)
    return meeting


def get_class_of_member(request: HttpRequest, pk: int) -> ShopClass:
    """Return a class that somebody belongs to now, as a student or as staff."""
    user = signed_in(request)
    mine = Membership.objects.present().filter(user=user).values("shop_class")
    classes = ShopClass.objects.filter(pk__in=mine).with_rights_of(user)
    return get_object_or_404(classes, pk=pk)


def need_open(shop_class: ShopClass) -> None:
    """Answer 403 where a class is archived: nothing is written there any more."""
    if shop_class.archived_at is not None:
        raise PermissionDenied


def get_machine(request: HttpRequest, pk: int) -> Machine:
    """Return a machine of the instructor's own shop."""
    machines = Machine.objects.select_related("shop")
    return get_object_or_404(machines, pk=pk, shop__owner=need_instructor(request))


def get_plan(request: HttpRequest, pk: int) -> Plan:
    """Return a plan that the instructor owns."""
    return get_object_or_404(Plan, pk=pk, owner=need_instructor(request))


def get_draft(request: HttpRequest, pk: int) -> Draft:
    """Return the draft of a plan that the instructor owns or was let write at."""
    plans = Plan.objects.editable_by(need_instructor(request)).values("pk")
    drafts = Draft.objects.select_related("plan__owner", "based_on").with_newest()
    return get_object_or_404(drafts, plan=pk, plan__in=plans)


def get_picture(request: HttpRequest, pk: int, name: str) -> PlanPicture:
    """Return a picture of a plan that somebody writes at, builds, or teaches."""
    user = signed_in(request)
    builds = Build.objects.open_to(user).values("revision__plan")
    plans = Plan.objects.editable_by(user).values("pk")
    allowed = Q(plan__in=builds) | Q(plan__in=plans)
    return get_object_or_404(PlanPicture, allowed, plan=pk, name=name)


def need_instructor(request: HttpRequest) -> User:
    """Return who is signed in where they may publish plans; 403 otherwise."""
    user = signed_in(request)
    if not user.is_instructor:
        raise PermissionDenied
    return user
