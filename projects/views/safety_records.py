"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def class_sign_offs_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def safety_record_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def class_sign_offs_file(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    raise Http404
