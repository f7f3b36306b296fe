"""Part drawings of a plan and of a build: a page, a PDF, and files to take away."""

from __future__ import annotations

from functools import partial

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from projects import adapters
from projects.access import get_build, get_plan, signed_in
from projects.engine.fit.solve import Solution, check_plan
from projects.models import Build, Revision
from projects.present.drawings import length_text
from projects.present.part_drawings import part_pictures, part_svg, sheet_of
from projects.printing import pdf as printing
from projects.printing.parts import parts_pdf
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.showing import Showing, showing_for
from projects.views.broken import shows_broken_builds

SCREEN_MM = 120.0
FILE_MM = 180.0


@require_safe
@login_required
def plan_parts(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the part drawings of a plan's newest revision, at its own sizes."""
    newest, solution = _planned(request, pk)
    showing = showing_for(request, solution.plan)
    context = {
        "plan": newest.plan,
        "pictures": part_pictures(solution, showing, width_mm=SCREEN_MM),
        "can_print": printing.can_print(),
    }
    return render(request, "projects/plan_parts.html", context)


@require_safe
@login_required
def plan_part_file(request: HttpRequest, pk: int, part: str, kind: str) -> HttpResponse:
    """Give a part's drawing at the plan's sizes, as DXF or SVG."""
    _, solution = _planned(request, pk)
    return _file(solution, showing_for(request, solution.plan), part, kind)


@require_safe
@login_required
@shows_broken_builds
def build_parts(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the part drawings of a build, at its student's sizes."""
    build = get_build(request, pk)
    solution = adapters.solve_build(build, build.readings.all())
    showing = showing_for(request, solution.plan)
    context = {
        "build": build,
        "pictures": part_pictures(solution, showing, width_mm=SCREEN_MM),
        "can_print": printing.can_print(),
        "is_own": build.student_id == signed_in(request).pk,
    }
    return render(request, "projects/build_parts.html", context)


@require_safe
@login_required
@shows_broken_builds
def build_part_file(
    request: HttpRequest, pk: int, part: str, kind: str
) -> HttpResponse:
    """Give a part's drawing at a student's sizes, as DXF or SVG."""
    build = get_build(request, pk)
    solution = adapters.solve_build(build, build.readings.all())
    return _file(solution, showing_for(request, solution.plan), part, kind)


@require_safe
@login_required
@shows_broken_builds
def build_parts_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the part drawings of a build as a PDF, on Letter or on A4 (`?paper=`)."""
    build = get_build(request, pk)
    solution = adapters.solve_build(build, build.readings.all())
    return _pdf(request, solution, build.revision, build)


@require_safe
@login_required
def plan_parts_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a plan's part drawings as a PDF, on Letter or on A4 (`?paper=`)."""
    newest, solution = _planned(request, pk)
    return _pdf(request, solution, newest)


def _pdf(
    request: HttpRequest,
    solution: Solution,
    revision: Revision,
    build: Build | None = None,
) -> HttpResponse:
    showing = showing_for(request, solution.plan)
    paper = request.GET.get("paper", "")
    if paper not in PAPERS:
        paper = "letter" if solution.plan.units == "in" else "a4"
    try:
        made = parts_pdf(
            revision, build, solution, showing, paper=paper, at=timezone.now()
        )
    except NoPangoError:
        if build:
            return redirect("build-parts", build.pk)
        return redirect("plan-parts", revision.plan_id)
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    name = f"part-drawings-{build.pk if build else revision.plan_id}-{paper}.pdf"
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


def _planned(request: HttpRequest, pk: int) -> tuple[Revision, Solution]:
    plan = get_plan(request, pk)
    newest = plan.revisions.select_related("plan").order_by("number").last()
    if newest is None:
        raise Http404
    return newest, check_plan(adapters.plan_of(newest))


def _file(solution: Solution, showing: Showing, part: str, kind: str) -> HttpResponse:
    sheet = sheet_of(solution, part)
    if sheet is None:
        raise Http404
    show = partial(length_text, showing=showing)
    if kind == "svg":
        text = part_svg(sheet, show, width_mm=FILE_MM, words=True)
        content_type = "image/svg+xml"
    else:
        # slow to load, and only here
        from projects.engine.drawing.dxf import dxf

        text = dxf(sheet, show=show, units=solution.plan.units)
        content_type = "image/vnd.dxf"
    return HttpResponse(
        text,
        content_type=content_type,
        headers={"Content-Disposition": f'attachment; filename="{part}.{kind}"'},
    )
