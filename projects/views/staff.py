"""Who teaches and who helps in a class."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from projects import actions
from projects.access import get_class_taught, need_open, signed_in
from projects.models import Membership, ShopClass
from projects.models.classes import MembershipQuerySet
from projects.present.staff import staff_lines
from projects.staff_forms import AssistantForm, InstructorForm, RightsForm
from projects.views.requirements import number_sent


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_staff(request: HttpRequest, pk: int) -> HttpResponse:
    """List who teaches and helps, and what each may; add somebody, change rights."""
    shop_class = get_class_taught(request, pk)
    known, new = InstructorForm(), AssistantForm(shop_class=shop_class)
    if request.method == "POST":
        need_open(shop_class)
        if "end" in request.POST:
            return _end_part(request, shop_class)
        if "rights" in request.POST:
            return _give_rights(request, shop_class)
        if "new" in request.POST:
            new = AssistantForm(request.POST, shop_class=shop_class)
            done = _add_assistant(new, shop_class)
        else:
            known = InstructorForm(request.POST)
            done = _add_known(known, shop_class)
        if done:
            return redirect("class-staff", pk)
    return _page(request, shop_class, known=known, new=new)


def _page(
    request: HttpRequest,
    shop_class: ShopClass,
    *,
    known: InstructorForm,
    new: AssistantForm,
    problem: str = "",
) -> HttpResponse:
    context = {
        "shop_class": shop_class,
        "lines": staff_lines(list(_staff(shop_class))),
        "known": known,
        "new": new,
        "problem": problem,
        "self": signed_in(request),
    }
    status = 422 if known.errors or new.errors or problem else 200
    return render(request, "projects/class_staff.html", context, status=status)


def _staff(shop_class: ShopClass) -> MembershipQuerySet:
    return shop_class.memberships.staff().select_related("user")


def _member(request: HttpRequest, shop_class: ShopClass, name: str) -> Membership:
    """Return whom of the staff a button is about."""
    return get_object_or_404(_staff(shop_class), pk=number_sent(request, name))


def _end_part(request: HttpRequest, shop_class: ShopClass) -> HttpResponse:
    membership = _member(request, shop_class, "end")
    try:
        actions.end_part(membership)
    except actions.LastInstructorError:
        return _page(
            request,
            shop_class,
            known=InstructorForm(),
            new=AssistantForm(shop_class=shop_class),
            problem=_("%(name)s is the last instructor. Add another one first.")
            % {"name": membership.user.name},
        )
    if membership.user_id == signed_in(request).pk:
        return redirect("class-list")
    return redirect("class-staff", shop_class.pk)


def _give_rights(request: HttpRequest, shop_class: ShopClass) -> HttpResponse:
    assistant = _member(request, shop_class, "rights")
    form = RightsForm(request.POST)
    if assistant.role == Membership.Role.ASSISTANT and form.is_valid():
        actions.give_rights(assistant, form.rights)
    return redirect("class-staff", shop_class.pk)


def _add_known(form: InstructorForm, shop_class: ShopClass) -> bool:
    if not form.is_valid():
        return False
    person = form.cleaned_data["username"]
    role = Membership.Role(form.cleaned_data["role"])
    try:
        actions.add_staff(shop_class, person, role=role, rights=form.rights)
    except actions.AlreadyInClassError as error:
        form.add_error(
            "username",
            _("%(name)s is in this class already: %(role)s.")
            % {"name": person.name, "role": error.membership.get_role_display()},
        )
        return False
    return True


def _add_assistant(form: AssistantForm, shop_class: ShopClass) -> bool:
    if not form.is_valid():
        return False
    name = form.cleaned_data["name"]
    actions.add_assistant(shop_class, name, rights=form.rights)
    return True
