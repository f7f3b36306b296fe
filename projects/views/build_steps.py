"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def build_steps(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def build_step(request: HttpRequest, pk: int, step: str) -> HttpResponse:
    raise Http404


@login_required
def step_mark(request: HttpRequest, pk: int, step: str) -> HttpResponse:
    raise Http404
