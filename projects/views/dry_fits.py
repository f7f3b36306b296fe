"""The dry fit of a build, and how sure its sizes are."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from projects import adapters
from projects.access import get_build, get_build_to_log, signed_in
from projects.actions.diagonals import log_diagonals
from projects.dry_fit_forms import DiagonalsForm
from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution
from projects.http import HtmxRequest
from projects.models import Build, Reading
from projects.present.certainty import certainty_page
from projects.present.dry_fit import dry_fit_page
from projects.showing import showing_for
from projects.views.broken import shows_broken_builds
from projects.words import words


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
@shows_broken_builds
def build_dry_fit(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show what is measured on the dry assembly; a POST logs its two diagonals."""
    gate = get_build_to_log if request.method == "POST" else get_build
    build = gate(request, pk)
    rows = list(build.readings.select_related("by"))
    solution = adapters.solve_build(build, rows)
    if request.method != "POST":
        return _page(request, build, rows, solution)
    form = DiagonalsForm(request.POST, solution=solution)
    if not form.is_valid():
        return _page(request, build, rows, solution, form)
    if form.asks_again:
        return _page(request, build, rows, solution, form, asks_again=True)
    key = form.cleaned_data["distance"]
    try:
        log_diagonals(
            build,
            rows,
            by=signed_in(request),
            key=key,
            pair=form.pair,
            kept_after_second_look=form.is_implausible,
        )
    except EngineError as error:
        form.add_error("second", words(error))
        return _page(request, build, rows, solution, form)
    return redirect(reverse("build-dry-fit", args=[pk]) + f"#square-{key}")


def _page(
    request: HtmxRequest,
    build: Build,
    rows: list[Reading],
    solution: Solution,
    form: DiagonalsForm | None = None,
    *,
    asks_again: bool = False,
) -> HttpResponse:
    showing = showing_for(request, solution.plan)
    context: dict[str, Any] = {
        "build": build,
        "page": dry_fit_page(rows, solution, showing),
        "form": form,
        "in_doubt": [doubt for doubt in solution.in_doubt if not doubt.agrees],
        "asks_again": asks_again,
        "apart": showing.difference(form.apart_mm) if form and asks_again else None,
        "is_own": build.student_id == signed_in(request).pk,
    }
    status = 422 if form else 200
    return render(request, "projects/build_dry_fit.html", context, status=status)


@require_safe
@login_required
@shows_broken_builds
def build_certainty(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show how sure each fit and each distance is."""
    build = get_build(request, pk)
    solution = adapters.solve_build(build, build.readings.all())
    context = {
        "build": build,
        "page": certainty_page(solution, showing_for(request, solution.plan)),
        "in_doubt": [doubt for doubt in solution.in_doubt if not doubt.agrees],
        "is_own": build.student_id == signed_in(request).pk,
    }
    return render(request, "projects/build_certainty.html", context)
