"""From HTML to PDF, where this computer can."""

from __future__ import annotations

from functools import cache

PAPERS = {"letter": "Letter", "a4": "A4"}


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

    Raises `NoPangoError` where WeasyPrint lacks its system libraries.
    """
    if not can_print():
        raise NoPangoError
    from projects.printing import layout

    return layout.lay_out(html, style=style, page_size=PAPERS[paper])
