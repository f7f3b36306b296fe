"""Logging readings, setting one aside, and their history."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from projects import actions, adapters
from projects.access import get_build, get_build_to_log, signed_in
from projects.engine.errors import EngineError
from projects.engine.fit.advice import SecondLook
from projects.forms import ReadingForm, TargetForm
from projects.http import HtmxRequest, respond, wants_fragment
from projects.models import Build, Reading
from projects.present.build_page import build_page
from projects.present.history import history, row_text
from projects.present.log_form import target_name
from projects.present.looks import look_lines
from projects.present.miscut import told_ways, ways_of
from projects.showing import CHOICES, showing_for
from projects.views.broken import shows_broken_builds
from projects.words import words


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
@shows_broken_builds
def readings(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show the history of a build's readings, or log one."""
    gate = get_build_to_log if request.method == "POST" else get_build
    build = gate(request, pk)
    rows = list(build.readings.select_related("by"))
    if request.method == "POST":
        return _log(request, build, rows)
    return _history(request, build, rows)


def _log(request: HtmxRequest, build: Build, rows: list[Reading]) -> HttpResponse:
    plan = adapters.plan_of(build.revision)
    form = ReadingForm(request.POST, plan=plan)
    if not form.is_valid():
        return _asked_again(request, build, rows, form)
    data = form.cleaned_data
    try:
        solution = actions.log_reading(
            build,
            rows,
            by=signed_in(request),
            target=data["target"],
            point=data["point"] or 1,
            length=data["length"],
            typed=form.data["length"].strip(),
            instrument=data["instrument"],
            keep=data["keep"],
        )
    except actions.SecondLookError as error:
        return _asked_again(request, build, rows, form, looks=error.looks)
    except EngineError as error:
        form.add_error("length", words(error))
        return _asked_again(request, build, rows, form)
    if not wants_fragment(request):
        return redirect("build-detail", build.pk)
    page = build_page(build, rows, solution, showing_for(request, plan))
    kept = {
        "read": row_text(rows[-1]),
        "name": target_name(data["target"], plan),
    }
    response = _respond(request, build, {"page": page, "kept": kept})
    # what was asked for is done, so a reload asks for what comes next
    response["HX-Replace-Url"] = reverse("build-detail", args=[build.pk])
    return response


def _asked_again(
    request: HtmxRequest,
    build: Build,
    rows: list[Reading],
    form: ReadingForm,
    *,
    looks: Iterable[SecondLook] = (),
) -> HttpResponse:
    """Show the form again with all that was typed, and why."""
    solution = adapters.solve_build(build, rows)
    showing = showing_for(request, solution.plan)
    page = build_page(
        build,
        rows,
        solution,
        showing,
        target=form.cleaned_data.get("target"),
        point=form.cleaned_data.get("point"),
    )
    context = {"page": page, "form": form, "looks": look_lines(looks, showing)}
    return _respond(request, build, context, status=422)


def _respond(
    request: HtmxRequest, build: Build, context: dict[str, Any], *, status: int = 200
) -> HttpResponse:
    context |= {
        "build": build,
        "choices": CHOICES,
        "is_own": build.student_id == signed_in(request).pk,
    }
    page, live = "projects/build_detail.html", "projects/_build_live.html"
    return respond(request, page, live, context, status=status)


@require_POST
@login_required
def reading_set_aside(request: HtmxRequest, pk: int) -> HttpResponse:
    """Set a point aside; its readings stay in the history."""
    build = get_build_to_log(request, pk)
    rows = list(build.readings.select_related("by"))
    form = TargetForm(request.POST, plan=adapters.plan_of(build.revision))
    if not form.is_valid():
        errors = [str(error) for found in form.errors.values() for error in found]
        return _history(request, build, rows, error=" ".join(errors))
    data = form.cleaned_data
    try:
        actions.set_aside(
            build,
            rows,
            by=signed_in(request),
            target=data["target"],
            point=data["point"] or 1,
        )
    except EngineError as error:
        return _history(request, build, rows, error=words(error))
    return redirect("readings", build.pk)


def _history(
    request: HtmxRequest, build: Build, rows: list[Reading], *, error: str = ""
) -> HttpResponse:
    plan, ways = adapters.plan_of(build.revision), ways_of(build)
    context = {
        "build": build,
        "told": told_ways(ways, rows, plan, showing_for(request, plan)),
        "problems": adapters.problems_of(build, rows),
        "lines": history(rows, plan, ways),
        "error": error,
        "is_own": build.student_id == signed_in(request).pk,
    }
    status = 422 if error else 200
    return render(request, "projects/reading_list.html", context, status=status)
