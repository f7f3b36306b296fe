"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe


@require_safe
@login_required
def build_dry_fit(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404


@require_safe
@login_required
def build_certainty(request: HttpRequest, pk: int) -> HttpResponse:
    raise Http404
