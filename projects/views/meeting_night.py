"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe


@require_safe
@login_required
def meeting_night(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def meeting_presence(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def meeting_plan(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def machine_outage(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404
