"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def class_prints(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def class_pack(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def class_pack_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404
