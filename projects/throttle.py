"""What the sign-in throttle counts by."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest


def username(request: HttpRequest, credentials: dict[str, Any] | None = None) -> str:
    """Return the name somebody tries to sign in with, as it is looked up.

    Names are kept in lower case, so `Ida` and `ida ` are one name to guess at.
    """
    given = (credentials or {}).get("username") or request.POST.get("username", "")
    return str(given).strip().lower()
