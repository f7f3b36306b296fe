"""Machine posters as PDFs, on Letter or on A4 (`?paper=`)."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from projects.access import get_machine, need_instructor
from projects.models import Machine
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.printing.posters import posters_pdf as make_pdf


@require_safe
@login_required
def machine_poster_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """Give one machine's poster."""
    machine = get_machine(request, pk)
    return _answer(request, [machine], name=f"poster-{pk}")


@require_safe
@login_required
def posters_pdf(request: HttpRequest) -> HttpResponse:
    """Give the posters of all machines in use."""
    owner = need_instructor(request)
    machines = list(Machine.objects.filter(shop__owner=owner, retired_at=None))
    if not machines:
        # the list says that there is none
        return redirect("machine-list")
    return _answer(request, machines, name="posters")


def _answer(
    request: HttpRequest, machines: Sequence[Machine], *, name: str
) -> HttpResponse:
    asked = request.GET.get("paper", "")
    paper = asked if asked in PAPERS else "letter"
    try:
        made = make_pdf(machines, paper=paper)
    except NoPangoError:
        # the list of machines says so
        return redirect("machine-list")
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}-{paper}.pdf"'},
    )
