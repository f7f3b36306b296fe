"""Raising a hand for help, and taking it down."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from projects import actions
from projects.access import get_build_to_log, signed_in
from projects.http import HtmxRequest, varying, wants_fragment
from projects.step_forms import HELP_WANTED, HandForm
from projects.views.broken import shows_broken_builds
from projects.views.build_steps import show_steps, steps_of


@require_POST
@login_required
@shows_broken_builds
def hand(request: HtmxRequest, pk: int) -> HttpResponse:
    """Raise a build's hand, which only its student does, or take it down."""
    build = get_build_to_log(request, pk)
    user = signed_in(request)
    is_own = build.student_id == user.pk
    newest = build.hands.select_related("by").last()
    form = HandForm(request.POST)
    if form.is_valid():
        data = form.cleaned_data
        if data["raised"] and not is_own:
            raise PermissionDenied
        actions.set_hand(
            build, newest, raised=data["raised"], by=user, note=data["words"]
        )
        if not wants_fragment(request):
            if data["step"]:
                return redirect("build-step", pk, data["step"])
            return redirect("build-steps", pk)
        newest = build.hands.select_related("by").last()
    elif not wants_fragment(request):
        steps = steps_of(request, build)
        return show_steps(request, build, steps, {"hand_form": form}, status=422)
    context = {
        "build": build,
        "hand": newest,
        "hand_form": form,
        "help_wanted": HELP_WANTED,
        "is_own": is_own,
        "may_write": True,
        "swapped": True,
        "hand_step": request.POST.get("step", ""),
    }
    status = 422 if form.errors else 200
    return varying(render(request, "projects/_hand.html", context, status=status))
