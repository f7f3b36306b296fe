"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe


@require_safe
@login_required
def run_sheet_list(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def run_sheet(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def run_sheet_tick(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def run_sheet_pdf(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    raise Http404
