"""A meeting's page: who is there, what runs, and who does what next."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe
from django_htmx.http import retarget

from projects import actions, planning_jobs
from projects.access import get_meeting_staffed, need_open, signed_in
from projects.http import HtmxRequest, respond, wants_fragment
from projects.meeting_night import evening_of, night_of, old_plan
from projects.models import Machine, Meeting, ShopClass
from projects.night_forms import OutageForm, PlanForm, PresenceForm
from projects.present.meeting_night import machine_line, night_page, person_line

PAGE, PLAN = "projects/meeting_night.html", "projects/_night_plan.html"
Context = dict[str, Any]


@require_safe
@login_required
def meeting_night(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show a meeting; an open page asks for the plan alone, or how far that is."""
    meeting = get_meeting_staffed(request, pk)
    job = planning_jobs.find(pk)
    if job is not None and job.is_on and wants_fragment(request):
        context = _context(meeting) | {"job": job}
        answer = respond(request, PAGE, "projects/_night_job.html", context)
        return retarget(answer, "#night-job")
    return _show(request, meeting)


def _show(
    request: HtmxRequest,
    meeting: Meeting,
    *,
    fragment: str = PLAN,
    more: Context | None = None,
    status: int = 200,
) -> HttpResponse:
    evening = evening_of(meeting, now=timezone.now())
    context = _context(meeting) | {
        "page": night_page(evening),
        "job": planning_jobs.find(meeting.pk),
        "known": request.GET.get("plan", ""),
        **(more or {}),
    }
    return respond(request, PAGE, fragment, context, status=status)


def _context(meeting: Meeting) -> Context:
    shop_class = meeting.shop_class
    return {
        "meeting": meeting,
        "shop_class": shop_class,
        "may_write": may_write(shop_class),
        "first_seconds": round(planning_jobs.FIRST_SECONDS),
        "anew_seconds": round(planning_jobs.ANEW_SECONDS),
    }


def may_write(shop_class: ShopClass) -> bool:
    """Tell whether who looks may write in a class that a gate gave."""
    is_open = shop_class.archived_at is None
    return is_open and bool(getattr(shop_class, "may_log", False))


def _to_write(request: HtmxRequest, pk: int) -> Meeting:
    meeting = get_meeting_staffed(request, pk, "may_log")
    need_open(meeting.shop_class)
    return meeting


@require_POST
@login_required
def meeting_presence(request: HtmxRequest, pk: int) -> HttpResponse:
    """Say whether a student is there; htmx gets their row."""
    meeting = _to_write(request, pk)
    form = PresenceForm(request.POST)
    if not form.is_valid():
        return _show(request, meeting, more={"problem": form.errors}, status=422)
    given = form.cleaned_data
    builds = meeting.shop_class.builds.present().select_related("student")
    build = get_object_or_404(builds, pk=given["build"])
    newest = actions.say_presence(
        meeting,
        build,
        meeting.presences.filter(build=build).last(),
        state=given["state"],
        by=signed_in(request),
    )
    if not wants_fragment(request):
        return redirect("meeting-night", pk)
    line = person_line(build.pk, build.student.name, newest)
    more = {"line": line, "anchored": True}
    return _show(request, meeting, fragment="projects/_night_person.html", more=more)


@require_POST
@login_required
def machine_outage(request: HtmxRequest, pk: int) -> HttpResponse:
    """Say that a machine is down or runs again; htmx gets its row."""
    meeting = _to_write(request, pk)
    form = OutageForm(request.POST)
    if not form.is_valid():
        return _show(request, meeting, more={"problem": form.errors}, status=422)
    given = form.cleaned_data
    machines = Machine.objects.filter(shop=meeting.shop_class.shop_id, retired_at=None)
    machine = get_object_or_404(machines, pk=given["machine"])
    newest = actions.say_outage(
        machine,
        machine.outages.last(),
        down=given["down"],
        note=given["note"],
        by=signed_in(request),
    )
    if not wants_fragment(request):
        return redirect("meeting-night", pk)
    more = {"line": machine_line(machine, newest), "anchored": True}
    return _show(request, meeting, fragment="projects/_night_machine.html", more=more)


@require_POST
@login_required
def meeting_plan(request: HtmxRequest, pk: int) -> HttpResponse:
    """Begin to plan, from what has begun by the newest plan where there is one."""
    meeting = _to_write(request, pk)
    form = PlanForm(request.POST)
    is_long = form.is_valid() and form.cleaned_data["long"]
    evening = evening_of(meeting, now=timezone.now())
    if evening.can_plan:
        old = old_plan(evening)
        quick = old is not None and not is_long
        planning_jobs.start(
            planning_jobs.Order(
                meeting=meeting,
                night=night_of(evening),
                old=old,
                places=evening.places,
                seconds=(
                    planning_jobs.ANEW_SECONDS if quick else planning_jobs.FIRST_SECONDS
                ),
                at=evening.now,
                by=signed_in(request),
            )
        )
    if not wants_fragment(request):
        return redirect("meeting-night", pk)
    return _show(request, meeting)
