"""From HTML to PDF, where this computer can."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from threading import BoundedSemaphore
from types import ModuleType

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
    layout = _layout()
    if not _ONE_AT_A_TIME.acquire(timeout=_WAIT_S):
        raise BusyError
    try:
        made: bytes = layout.lay_out(html, style=style, page_size=PAPERS[paper])
        return made
    finally:
        _ONE_AT_A_TIME.release()


def pdf_of_many(
    htmls: Iterable[str], *, style: str, paper: str, tell: Callable[[int], object]
) -> bytes:
    """Return many texts laid out in one PDF; `tell` hears after each how many are done.

    Single sheets get in between: while one text is made, the next is not laid out yet.
    Raises `NoPangoError` as `pdf` does.
    """
    layout = _layout()
    stack = layout.Stack(style=style, page_size=PAPERS[paper])
    for done, html in enumerate(htmls, start=1):
        with _ONE_AT_A_TIME:
            stack.add(html)
        tell(done)
    with _ONE_AT_A_TIME:
        made: bytes = stack.write()
        return made


def _layout() -> ModuleType:
    """Return the module that knows WeasyPrint; raises `NoPangoError` without pango."""
    if not can_print():
        raise NoPangoError
    from projects.printing import layout

    return layout
