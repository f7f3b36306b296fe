"""Marking a written check."""

from __future__ import annotations

from projects.engine.errors import EngineError


class PassMarkError(EngineError):
    """Tell that a pass mark is no share of a whole."""


def has_passed(right: int, asked: int, *, pass_mark_pct: int) -> bool:
    """Tell whether `right` [-] of `asked` [-] answers reach the pass mark [%].

    Raises `PassMarkError` where nothing was asked, or the mark is not 1 to 100.

    >>> has_passed(8, 10, pass_mark_pct=80), has_passed(7, 9, pass_mark_pct=80)
    (True, False)
    """
    if asked < 1 or not 1 <= pass_mark_pct <= 100:
        raise PassMarkError(
            "a pass mark is 1 to 100 % of at least 1 question (got {mark} % of "
            "{asked})",
            mark=pass_mark_pct,
            asked=asked,
        )
    return 100 * right >= pass_mark_pct * asked
