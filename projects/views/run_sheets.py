"""A machine's run sheet: set up once, cut for everyone who wants it so."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from projects import actions
from projects.access import get_class_staffed, need_open, signed_in
from projects.engine.errors import EngineError
from projects.http import HtmxRequest, respond, varying, wants_fragment
from projects.models import Build
from projects.overview import roll_of
from projects.present.run_sheet import run_sheet_page
from projects.printing import pdf as printing
from projects.printing.pdf import PAPERS, BusyError, NoPangoError
from projects.printing.run_sheet import run_sheet_pdf as make_pdf
from projects.run_sheet_asked import Asked, read_asked
from projects.run_sheet_forms import CutForm
from projects.run_sheet_moves import cuts_named, since, snapshot
from projects.run_sheets import meeting_for, open_counts
from projects.words import words


@require_safe
@login_required
def run_sheet_list(request: HttpRequest, pk: int) -> HttpResponse:
    """List the shop's machines with how many students have a step open there."""
    shop_class = get_class_staffed(request, pk)
    now = timezone.now()
    meeting = meeting_for(shop_class, request.GET.get("meeting", ""), now=now)
    context = {
        "shop_class": shop_class,
        "meeting": meeting,
        "machines": open_counts(roll_of(shop_class, now=now), meeting),
    }
    return render(request, "projects/run_sheet_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def run_sheet(request: HtmxRequest, pk: int, machine: int) -> HttpResponse:
    """Show a machine's run sheet; a POST keeps it as it is, and may print it.

    An open page asks every few seconds, saying what it shows (`?since=`): where that
    still holds, the answer is empty.
    """
    if request.method == "POST":
        return _keep(request, pk, machine)
    asked = read_asked(request, get_class_staffed(request, pk), machine)
    if wants_fragment(request) and request.GET.get("since") == asked.token:
        return varying(HttpResponse(status=204))
    return _show(request, asked)


def _keep(request: HtmxRequest, pk: int, machine: int) -> HttpResponse:
    """Keep the sheet; print it too where a `paper` is named."""
    shop_class = get_class_staffed(request, pk, "may_log")
    need_open(shop_class)
    asked = read_asked(request, shop_class, machine)
    actions.keep_run_sheet(
        shop_class,
        asked.machine,
        snapshot(asked.night.sheet.setups),
        by=signed_in(request),
    )
    paper = request.POST.get("paper", "")
    if paper in PAPERS:
        return redirect(asked.url("run-sheet-pdf", paper=paper))
    return redirect(asked.url("run-sheet"))


@require_POST
@login_required
def run_sheet_tick(request: HtmxRequest, pk: int, machine: int) -> HttpResponse:
    """Tick a student's cuts at a setup, take a tick back, or mark a step as done."""
    shop_class = get_class_staffed(request, pk, "may_log")
    need_open(shop_class)
    asked = read_asked(request, shop_class, machine)
    form = CutForm(request.POST)
    problem = _("Nothing was ticked: the sheet has changed. Look again.")
    if form.is_valid():
        said = _mark_step if form.cleaned_data["step"] else _mark_cut
        problem = said(request, asked, form) or ""
    if problem:
        return _show(request, asked, problem=problem)
    if not wants_fragment(request):
        return redirect(asked.url("run-sheet") + "#run-sheet")
    return _show(request, read_asked(request, shop_class, machine))


def _mark_cut(request: HtmxRequest, asked: Asked, form: CutForm) -> str | None:
    """Tick or take back; return what is wrong, if anything."""
    data, night = form.cleaned_data, asked.night
    cuts = cuts_named(night, data["build"], data["cut"])
    if not cuts or not night.cuttable.issuperset(cuts):
        return _("Nothing was ticked: the sheet has changed. Look again.")
    by = signed_in(request)
    actions.mark_cut(cuts, done=data["done"], already=night.cut, by=by)
    return None


def _mark_step(request: HtmxRequest, asked: Asked, form: CutForm) -> str | None:
    """Mark a step as done whose pieces are all cut; return what is wrong, if so."""
    data, night = form.cleaned_data, asked.night
    task = night.task_of.get((data["build"], data["step"]))
    if task is None or not task.is_cut(night.cut):
        return _("Nothing was marked: not all of this step is ticked as cut.")
    build = Build.objects.get(pk=task.build)
    try:
        actions.mark_done(
            build,
            task.place.standing,
            by=signed_in(request),
            machine=asked.machine.kind,
            note=_("cut by the run sheet"),
        )
    except EngineError as refused:
        return words(refused)
    return None


@require_safe
@login_required
def run_sheet_pdf(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    """Give the run sheet as a PDF, on Letter or on A4 (`?paper=`)."""
    asked = read_asked(request, get_class_staffed(request, pk), machine)
    paper = request.GET.get("paper", "")
    if paper not in PAPERS:
        paper = "letter" if asked.form.plan.units == "in" else "a4"
    page = run_sheet_page(asked.night, asked.showing, None)
    try:
        made = make_pdf(asked.night, page, paper=paper)
    except NoPangoError:
        # the page says so
        return redirect(asked.url("run-sheet"))
    except BusyError:
        return render(request, "projects/busy.html", status=503)
    name = f"run-sheet-{pk}-{machine}-{paper}.pdf"
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


def _show(request: HtmxRequest, asked: Asked, *, problem: str = "") -> HttpResponse:
    past = since(asked.kept, asked.night) if asked.kept else None
    shop_class = asked.shop_class
    context = {
        "asked": asked,
        "shop_class": shop_class,
        "machine": asked.machine,
        "meeting": asked.meeting,
        "form": asked.form,
        "may_tick": shop_class.archived_at is None
        and bool(getattr(shop_class, "may_log", False)),
        "can_print": printing.can_print(),
        "page": run_sheet_page(asked.night, asked.showing, past),
        "problem": problem,
        "page_url": asked.url("run-sheet"),
        "poll_url": asked.url("run-sheet", since=asked.token),
        "tick_url": asked.url("run-sheet-tick"),
        "pdf_url": asked.url("run-sheet-pdf"),
    }
    status = 422 if problem or asked.form.errors else 200
    return respond(
        request,
        "projects/run_sheet.html",
        "projects/_run_sheet.html",
        context,
        status=status,
    )
