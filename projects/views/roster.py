"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def class_roster(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@login_required
def student_edit(request: HttpRequest, pk: int, student: int) -> HttpResponse:
    raise Http404


@login_required
def card_renew(request: HttpRequest, pk: int, student: int) -> HttpResponse:
    raise Http404
