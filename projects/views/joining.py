"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def join(request: HttpRequest) -> HttpResponse:
    raise Http404


@login_required
def join_card(request: HttpRequest, code: str) -> HttpResponse:
    raise Http404
