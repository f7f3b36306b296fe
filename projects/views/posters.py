"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def machine_poster_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def posters_pdf(request: HttpRequest) -> HttpResponse:
    raise Http404
