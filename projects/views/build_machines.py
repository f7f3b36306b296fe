"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def build_machines(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def build_machine(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    raise Http404


@login_required
def machine_read(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    raise Http404
