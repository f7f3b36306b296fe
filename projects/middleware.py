"""What every answer carries."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

Handler = Callable[[HttpRequest], HttpResponse]


def keep_private(get_response: Handler) -> Handler:
    """Keep pages of people who are signed in out of every cache.

    A shop's tablet goes from hand to hand: after signing out, Back shows nothing.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        user = getattr(request, "user", None)
        if user is not None and user.is_authenticated:
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response

    return answer
