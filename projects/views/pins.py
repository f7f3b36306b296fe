"""Not written yet."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse


@login_required
def account_pin(request: HttpRequest) -> HttpResponse:
    raise Http404
