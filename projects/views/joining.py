"""Joining on a phone, with a card and a PIN of one's own."""

from __future__ import annotations

from django import forms
from django.contrib.auth import authenticate, login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from projects import actions, throttle_codes
from projects.joining_forms import CodeForm, NewPinForm, PinForm, holder
from projects.models import User


@require_http_methods(["GET", "HEAD", "POST"])
@never_cache
def join(request: HttpRequest) -> HttpResponse:
    """Ask for the code on the card."""
    if request.method != "POST":
        return render(request, "projects/join.html", {"form": CodeForm()})
    form = CodeForm(request.POST)
    if form.is_valid():
        if not throttle_codes.may_try(request):
            return _not_in_use(request, form, status=422)
        person = holder(form.cleaned_data["code"])
        if person is not None:
            return redirect("join-card", person.username)
        return _not_in_use(request, form, status=422)
    return render(request, "projects/join.html", {"form": form}, status=422)


@require_http_methods(["GET", "HEAD", "POST"])
@never_cache
@sensitive_post_parameters("password", "again")
def join_card(request: HttpRequest, code: str) -> HttpResponse:
    """Greet who holds the card; let them choose a PIN, or ask for the chosen one."""
    person = holder(code) if throttle_codes.may_try(request) else None
    if person is None:
        form = CodeForm({"code": code})
        form.is_valid()
        return _not_in_use(request, form, status=404)
    if request.user.is_authenticated:
        if request.user == person:
            return redirect("home")
        # a shared phone: whose name stands on the page must be clear
        status = 409 if request.method == "POST" else 200
        return _page(request, person, None, status=status)
    form_class = PinForm if person.has_joined else NewPinForm
    if request.method != "POST":
        return _page(request, person, form_class(), status=200)
    # a page loaded before somebody chose a PIN asks for a new one
    pin_form = form_class(request.POST)
    if pin_form.is_valid() and _sign_in(request, person, pin_form):
        return redirect("home")
    return _page(request, person, pin_form, status=422)


def _sign_in(request: HttpRequest, person: User, form: forms.Form) -> bool:
    """Keep a new PIN where that is what was sent, and sign in with it."""
    pin = form.cleaned_data["password"]
    if not person.has_joined and not actions.choose_pin(person, pin):
        form.add_error(
            "password",
            _(
                "Somebody chose a PIN for this card just now. If that was not you, ask "
                "your instructor for a new card."
            ),
        )
        return False
    # through the backends, so that guesses are counted
    user = authenticate(request, username=person.username, password=pin)
    if user is None:
        form.add_error(
            "password",
            _(
                "This is not the PIN that goes with this card. If it is lost, your "
                "instructor can give you a new card."
            ),
        )
        return False
    login(request, user)
    return True


def _page(
    request: HttpRequest, person: User, form: forms.Form | None, *, status: int
) -> HttpResponse:
    context = {"person": person, "form": form}
    return render(request, "projects/join_card.html", context, status=status)


def _not_in_use(request: HttpRequest, form: CodeForm, *, status: int) -> HttpResponse:
    """Say the same of a code that never was and of one that was voided."""
    if throttle_codes.may_try(request):
        throttle_codes.count_wrong(request)
        form.add_error("code", _("This code is not in use. Look at the card again."))
    else:
        status = 429
        form.add_error(
            "code",
            _("Too many wrong codes came from here. Try again in ten minutes."),
        )
    return render(request, "projects/join.html", {"form": form}, status=status)
