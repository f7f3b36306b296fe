"""From HTML to PDF, where this computer can."""

from __future__ import annotations

from functools import cache
from threading import BoundedSemaphore

PAPERS = {"letter": "Letter", "a4": "A4"}


_WAIT_S = 20
_ONE_AT_A_TIME = BoundedSemaphore(1)


class BusyError(RuntimeError):
    """Tell that other sheets are being made and this one waited long enough."""


class NoPangoError(RuntimeError):
    """Tell that this computer lacks pango, so the browser has to print."""


@cache
def can_print() -> bool:
    """Tell whether PDFs can be made here: WeasyPrint finds its system libraries."""
    try:
        from projects.printing import layout  # noqa: F401 - loads pango
    except OSError:
        return False
    return True


def pdf(html: str, *, style: str, paper: str) -> bytes:
    """Return `html` laid out on `paper`, with the print style sheet `style`.

    Sheets are made one at a time, so that pages stay quick meanwhile. Raises
    `BusyError` after waiting long, and `NoPangoError` where WeasyPrint lacks its
    system libraries.
    """
    if not can_print():
        raise NoPangoError
    from projects.printing import layout

    if not _ONE_AT_A_TIME.acquire(timeout=_WAIT_S):
        raise BusyError
    try:
        return layout.lay_out(html, style=style, page_size=PAPERS[paper])
    finally:
        _ONE_AT_A_TIME.release()
