"""A build step by step: all of them, one of them, and marking one."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from projects import actions, adapters, progress
from projects.access import get_build, get_build_to_log, signed_in
from projects.engine.errors import EngineError
from projects.http import HtmxRequest, respond
from projects.models import Build
from projects.present import build_steps as present
from projects.showing import showing_for
from projects.step_forms import HELP_WANTED, StepMarkForm
from projects.views.broken import shows_broken_builds
from projects.words import words


@require_safe
@login_required
@shows_broken_builds
def build_steps(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show a build's steps, the one to do next first."""
    build = get_build(request, pk)
    return show_steps(request, build, steps_of(request, build))


@require_safe
@login_required
@shows_broken_builds
def build_step(request: HtmxRequest, pk: int, step: str) -> HttpResponse:
    """Show one step, to be read standing at the bench."""
    build = get_build(request, pk)
    return show_step(request, build, steps_of(request, build), step)


@require_POST
@login_required
@shows_broken_builds
def step_mark(request: HtmxRequest, pk: int, step: str) -> HttpResponse:
    """Mark a step as done or move it back, and show the page it was said on."""
    build = get_build_to_log(request, pk)
    steps = steps_of(request, build)
    standing = next((s for s in steps.standings if s.step.key == step), None)
    if standing is None:
        raise Http404
    form = StepMarkForm(request.POST)
    on_all = request.POST.get("page") == "steps"
    error = ""
    if form.is_valid():
        data, by = form.cleaned_data, signed_in(request)
        try:
            if data["done"]:
                actions.mark_done(
                    build, standing, by=by, machine=data["machine"], note=data["note"]
                )
            else:
                actions.move_back(build, standing, by=by, note=data["note"])
        except EngineError as refused:
            error = words(refused)
        else:
            if not request.htmx:
                return (
                    redirect("build-steps", pk)
                    if on_all
                    else redirect("build-step", pk, step)
                )
            steps = steps_of(request, build)
    more = {"form": form, "error": error, "marked": standing.step}
    status = 422 if error or form.errors else 200
    if on_all:
        return show_steps(request, build, steps, more, status=status)
    return show_step(request, build, steps, step, more, status=status)


def show_steps(
    request: HtmxRequest,
    build: Build,
    steps: present.Steps,
    more: dict[str, Any] | None = None,
    *,
    status: int = 200,
) -> HttpResponse:
    """Render a build's steps."""
    page = present.build_steps(steps)
    context = _context(request, build, steps) | {"page": page, "card": page.now}
    return respond(
        request,
        "projects/build_steps.html",
        "projects/_steps_live.html",
        context | (more or {}),
        status=status,
    )


def show_step(
    request: HtmxRequest,
    build: Build,
    steps: present.Steps,
    key: str,
    more: dict[str, Any] | None = None,
    *,
    status: int = 200,
) -> HttpResponse:
    """Render one step; 404 where the build's revision has none of that key."""
    card = present.step_card(steps, key, drawn=True)
    if card is None:
        raise Http404
    return respond(
        request,
        "projects/build_step.html",
        "projects/_step_live.html",
        _context(request, build, steps) | {"card": card} | (more or {}),
        status=status,
    )


def steps_of(request: HtmxRequest, build: Build) -> present.Steps:
    """Return what a build's steps are shown from; costs four queries."""
    solution = adapters.solve_build(build, build.readings.all())
    marks = list(build.marks.select_related("by"))
    machines = progress.machines_for(
        build.shop_class.shop_id, [build.student_id], today=timezone.localdate()
    )
    return present.Steps(
        solution=solution,
        course=progress.course(solution.plan),
        standings=progress.standings(build, solution, marks=marks, machines=machines),
        marks=marks,
        showing=showing_for(request, solution.plan),
        machines=machines.machines,
    )


def _context(
    request: HtmxRequest, build: Build, steps: present.Steps
) -> dict[str, Any]:
    user = signed_in(request)
    return {
        "build": build,
        "showing": steps.showing,
        "is_own": build.student_id == user.pk,
        "may_write": progress.may_write(build, user),
        "hand": build.hands.select_related("by").last(),
        "help_wanted": HELP_WANTED,
    }
