"""Slowing down whoever guesses the codes of join cards.

A wrong PIN counts against its code, as at the sign-in. A wrong code is nobody's, so it
counts against where it came from: a class shares one address, hence many tries.
"""

from __future__ import annotations

from django.core.cache import cache
from django.http import HttpRequest

from projects.throttle import address

MOST_WRONG = 60
PER_SECONDS = 600


def may_try(request: HttpRequest) -> bool:
    """Tell whether codes from there are looked at now."""
    return int(cache.get(_key(request), 0)) < MOST_WRONG


def count_wrong(request: HttpRequest) -> None:
    """Count one more wrong code from there."""
    key = _key(request)
    if not cache.add(key, 1, PER_SECONDS):
        try:
            cache.incr(key)
        except ValueError:  # it ran out between the two
            cache.set(key, 1, PER_SECONDS)


def _key(request: HttpRequest) -> str:
    return f"wrong-codes-{address(request)}"
