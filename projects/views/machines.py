"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def machine_list(request: HttpRequest) -> HttpResponse:
    raise Http404


@login_required
def machine_detail(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def machine_photo(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404
