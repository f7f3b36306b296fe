"""A build: its page, its sizes and their sums."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from projects import adapters
from projects.access import get_build, signed_in
from projects.engine.fit.system import SizeKey
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.forms import TargetForm
from projects.http import HtmxRequest, varying, wants_fragment
from projects.present.build_page import build_page
from projects.present.size_table import part_row
from projects.showing import CHOICES, showing_for
from projects.views.broken import shows_broken_builds


@require_safe
@login_required
@shows_broken_builds
def build_detail(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show a build; `?log=` asks for something other than the next reading."""
    return _page(request, pk)


@require_safe
@login_required
@shows_broken_builds
def size_sum(request: HtmxRequest, pk: int, part: str, dimension: str) -> HttpResponse:
    """Show one size with its sum: in its row, or on the whole page."""
    return _page(request, pk, opened=(part, dimension))


@require_safe
@login_required
@shows_broken_builds
def part_sizes(request: HtmxRequest, pk: int, part: str) -> HttpResponse:
    """Show one part's row with no sum open."""
    if not wants_fragment(request):
        return redirect("build-detail", get_build(request, pk).pk)
    return _page(request, pk, opened=(part, ""))


def _page(
    request: HtmxRequest, pk: int, *, opened: tuple[str, str] | None = None
) -> HttpResponse:
    build = get_build(request, pk)
    plan = adapters.plan_of(build.revision)
    if opened and opened[0] not in plan.part_by_key:
        raise Http404
    rows = list(build.readings.select_related("by"))
    solution = adapters.solve_build(build, rows)
    showing = showing_for(request, plan)
    size = _size(opened)
    if opened and wants_fragment(request):
        part = part_row(solution, showing, plan.part_by_key[opened[0]], opened=size)
        context = {"part": part, "build": build, "showing": showing}
        response = render(request, "projects/_part_row.html", context)
        # a boosted link would put the sum's address into the page's history
        response["HX-Push-Url"] = "false"
        return varying(response)
    page = build_page(
        build, rows, solution, showing, opened=size, **_asked(request, plan)
    )
    context = {
        "page": page,
        "build": build,
        "choices": CHOICES,
        "is_own": build.student_id == signed_in(request).pk,
    }
    return varying(render(request, "projects/build_detail.html", context))


def _asked(request: HtmxRequest, plan: Plan) -> dict[str, Any]:
    """Return what `?log=` and `?point=` ask for, where the plan has it."""
    form = TargetForm(
        {"target": request.GET.get("log", ""), "point": request.GET.get("point")},
        plan=plan,
    )
    if not form.is_valid():
        return {}
    return {"target": form.cleaned_data["target"], "point": form.cleaned_data["point"]}


def _size(opened: tuple[str, str] | None) -> SizeKey | None:
    if opened is None or opened[1] == "":
        return None
    if opened[1] not in DIMENSIONS:
        raise Http404
    return opened[0], opened[1]
