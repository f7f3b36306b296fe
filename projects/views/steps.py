"""A plan's steps and their pictures."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe

from projects import adapters
from projects.access import get_picture, get_plan
from projects.engine.steps import propose
from projects.present.steps import fault_lines, stages


@require_safe
@login_required
def plan_steps(request: HttpRequest, pk: int) -> HttpResponse:
    """Show the steps of a plan's newest revision, or those its joints suggest."""
    plan = get_plan(request, pk)
    newest = plan.revisions.order_by("number").last()
    if newest is None:
        raise Http404
    read = adapters.plan_of(newest)
    steps = read.steps or propose(read)
    context = {
        "plan": plan,
        "revision": newest,
        "stages": stages(read, steps),
        "faults": fault_lines(read, steps),
        "proposed": not read.steps,
    }
    return render(request, "projects/plan_steps.html", context)


@require_safe
@login_required
@cache_control(private=True, max_age=31_536_000, immutable=True)
def plan_picture(request: HttpRequest, pk: int, name: str) -> HttpResponse:
    """Give a step's picture; its name holds its digest, so it never changes."""
    picture = get_picture(request, pk, name)
    return HttpResponse(bytes(picture.data), content_type="image/jpeg")
