"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def sign_off(request: HttpRequest, pk: int, machine: int) -> HttpResponse:
    raise Http404


@login_required
def class_sign_offs(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404
