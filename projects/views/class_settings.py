"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def class_settings(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def class_archive(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404
