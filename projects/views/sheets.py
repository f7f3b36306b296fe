"""A build's cut sheet, as a page and as a PDF."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from projects import adapters
from projects.access import get_build, signed_in
from projects.printing import pdf as printing
from projects.printing.cut_sheet import cut_sheet_pdf as make_pdf
from projects.printing.cut_sheet import sheet_context
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.sheet_machines import machines_of_build
from projects.showing import showing_for
from projects.views.broken import shows_broken_builds


@require_safe
@login_required
@shows_broken_builds
def cut_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a build's cut sheet; it prints through the browser too."""
    build = get_build(request, pk)
    rows = list(build.readings.select_related("by"))
    solution = adapters.solve_build(build, rows)
    showing = showing_for(request, solution.plan)
    machines = machines_of_build(build, solution, today=timezone.localdate())
    context = sheet_context(build, rows, solution, showing, machines=machines) | {
        "can_print": printing.can_print(),
        "is_own": build.student_id == signed_in(request).pk,
    }
    return render(request, "projects/cut_sheet.html", context)


@require_safe
@login_required
@shows_broken_builds
def cut_sheet_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the cut sheet as a PDF, on Letter or on A4 (`?paper=`)."""
    build = get_build(request, pk)
    rows = list(build.readings.select_related("by"))
    solution = adapters.solve_build(build, rows)
    showing = showing_for(request, solution.plan)
    paper = request.GET.get("paper", "")
    if paper not in PAPERS:
        paper = "letter" if solution.plan.units == "in" else "a4"
    machines = machines_of_build(build, solution, today=timezone.localdate())
    try:
        made = make_pdf(
            build,
            rows,
            solution,
            showing,
            paper=paper,
            machines=machines,
        )
    except NoPangoError:
        # the page says so, and prints through the browser
        return redirect("cut-sheet", build.pk)
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    name = f"cut-sheet-{build.pk}-{paper}.pdf"
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )
