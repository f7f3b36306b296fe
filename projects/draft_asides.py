"""What of one's own in a draft is not in, remembered until it is decided.

It is kept whole among the draft's changes; the session holds under which numbers.
"""

from __future__ import annotations

from django.http import HttpRequest

from projects.models import Draft

SESSION_KEY = "draft_asides"
MOST = 5
"""How many of one draft are shown; of more the oldest is only kept."""


def undecided(request: HttpRequest, draft: Draft) -> list[int]:
    """Return the numbers of what is undecided in a draft, the newest first."""
    every: dict[str, list[int]] = request.session.get(SESSION_KEY, {})
    return every.get(str(draft.pk), [])


def remember(request: HttpRequest, draft: Draft, number: int) -> None:
    """Keep a number in view until it is decided."""
    rest = [one for one in undecided(request, draft) if one != number]
    _keep(request, draft, [number, *rest][:MOST])


def forget(request: HttpRequest, draft: Draft, number: int) -> None:
    """Keep a number in view no longer: it is in, or theirs stays."""
    held = undecided(request, draft)
    if number in held:
        _keep(request, draft, [one for one in held if one != number])


def _keep(request: HttpRequest, draft: Draft, numbers: list[int]) -> None:
    every = {**request.session.get(SESSION_KEY, {}), str(draft.pk): numbers}
    request.session[SESSION_KEY] = {pk: held for pk, held in every.items() if held}
