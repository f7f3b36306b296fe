"""Small things every view needs of HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django_htmx.middleware import HtmxDetails


class HtmxRequest(HttpRequest):
    """A request that django-htmx has looked at."""

    htmx: HtmxDetails


def wants_fragment(request: HtmxRequest) -> bool:
    """Tell whether htmx asks for the live part alone."""
    return bool(request.htmx) and not request.htmx.history_restore_request


def respond(
    request: HtmxRequest,
    page: str,
    fragment: str,
    context: dict[str, Any],
    *,
    status: int = 200,
) -> HttpResponse:
    """Render the page, or its live part alone where htmx asks for that."""
    template = fragment if wants_fragment(request) else page
    return varying(render(request, template, context, status=status))


def varying(response: HttpResponse) -> HttpResponse:
    """Tell caches that this address answers htmx and a browser differently."""
    patch_vary_headers(response, ("HX-Request",))
    return response
