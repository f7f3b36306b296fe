"""Who is in a class: the list, and each student on it."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from projects import actions
from projects.access import get_class_staffed, need_open, signed_in
from projects.members import Member, member, members_of
from projects.models import Right, ShopClass
from projects.printing.pdf import can_print
from projects.roster_forms import NameForm, RosterAddForm


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_roster(request: HttpRequest, pk: int) -> HttpResponse:
    """List who is in a class; put students on the roster."""
    right: Right | None = "may_roster" if request.method == "POST" else None
    shop_class = get_class_staffed(request, pk, right)
    viewer = signed_in(request)
    everybody = members_of(shop_class, viewer)
    form = RosterAddForm(
        request.POST if request.method == "POST" else None,
        request.FILES or None,
        shop_class=shop_class,
        viewer=viewer,
        known=everybody,
    )
    if request.method == "POST":
        need_open(shop_class)
        if form.is_valid() and _add(shop_class, form):
            return redirect("class-roster", shop_class.pk)
    context = _lists(everybody) | {
        "shop_class": shop_class,
        "form": form,
        "can_print": can_print(),
    }
    status = 422 if form.errors else 200
    return render(request, "projects/class_roster.html", context, status=status)


def _add(shop_class: ShopClass, form: RosterAddForm) -> bool:
    given = form.cleaned_data
    people = [*actions.new_people(given["new"]), *given["person"]]
    try:
        actions.add_students(shop_class, people)
    except IntegrityError:
        # the same person, or the same code, was taken by another at this moment
        form.add_error("names", _("That could not be kept; send it again."))
        return False
    return True


def _lists(everybody: list[Member]) -> dict[str, Any]:
    students = [one for one in everybody if one.is_student]
    return {
        "students": [one for one in students if not one.has_left],
        "left": [one for one in students if one.has_left],
        "assistants": [
            one for one in everybody if not one.is_student and not one.has_left
        ],
    }


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def student_edit(request: HttpRequest, pk: int, student: int) -> HttpResponse:
    """Rename a student or an assistant, or let a student leave and come back."""
    shop_class, one = _get_member(request, pk, student)
    known = [
        other
        for other in members_of(shop_class, signed_in(request))
        if other.person != one.person
    ]
    initial = {"name": one.person.name}
    data = request.POST if request.method == "POST" else None
    form = NameForm(data, initial=initial, known=known)
    if request.method == "POST":
        need_open(shop_class)
        if _change(one, request.POST.get("op", "rename"), form):
            return redirect("class-roster", shop_class.pk)
    # the record of who left is asked for too
    build = shop_class.builds.filter(student=one.person).first()
    context = {"shop_class": shop_class, "member": one, "form": form, "build": build}
    status = 422 if form.errors else 200
    return render(request, "projects/student_edit.html", context, status=status)


def _change(one: Member, op: str, form: NameForm) -> bool:
    """Do what was asked; False where the form has to be looked at."""
    if op == "rename":
        if not one.may_change:
            raise PermissionDenied
        if not form.is_valid():
            return False
        actions.rename(one.person, form.cleaned_data["name"])
    elif op == "leave" and one.is_student:
        actions.leave_class(one.membership)
    elif op == "return" and one.is_student:
        actions.return_to_class(one.membership)
    else:
        raise Http404
    return True


@require_POST
@login_required
def card_renew(request: HttpRequest, pk: int, student: int) -> HttpResponse:
    """Void somebody's card and PIN; offer the new card to print."""
    shop_class, one = _get_member(request, pk, student)
    need_open(shop_class)
    if not one.may_change or one.has_left:
        raise PermissionDenied
    actions.new_card(one.person)
    cards = reverse("class-cards", args=[shop_class.pk])
    return redirect(f"{cards}?student={one.person.pk}&new=1")


def _get_member(request: HttpRequest, pk: int, person: int) -> tuple[ShopClass, Member]:
    """Return a class whose roster the viewer may change, and somebody on it."""
    shop_class = get_class_staffed(request, pk, "may_roster")
    one = member(shop_class, signed_in(request), person)
    if one is None:
        raise Http404
    return shop_class, one
