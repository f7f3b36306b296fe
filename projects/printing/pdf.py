"""From HTML to PDF, with nothing fetched but our own files."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from django.conf import settings

PAPERS = {"letter": "Letter", "a4": "A4"}
PRINT_FILES = Path(settings.BASE_DIR) / "static"


class NoPangoError(RuntimeError):
    """Tell that this computer lacks pango, so the browser has to print."""


@cache
def can_print() -> bool:
    """Tell whether PDFs can be made here: WeasyPrint finds its system libraries."""
    try:
        import weasyprint  # noqa: F401 - it loads pango, which may be missing
    except OSError:
        return False
    return True


def _fetch(url: str, *_args: Any, **_kwargs: Any) -> Any:
    """Open our own fonts and style sheets; refuse every other address."""
    from weasyprint.urls import default_url_fetcher

    path = Path(url.removeprefix("file://")).resolve()
    if not url.startswith("file://") or PRINT_FILES not in path.parents:
        raise ValueError(f"printing fetches no {url}")
    return default_url_fetcher(url)


def pdf(html: str, *, style: str, paper: str) -> bytes:
    """Return `html` laid out on `paper`, with the print style sheet `style`.

    Raises `NoPangoError` where WeasyPrint lacks its system libraries.
    """
    if not can_print():
        raise NoPangoError
    from weasyprint import CSS, HTML

    sheets = [
        CSS(filename=str(PRINT_FILES / "print" / style), url_fetcher=_fetch),
        CSS(string=f"@page {{ size: {PAPERS[paper]} }}"),
    ]
    made = HTML(string=html, url_fetcher=_fetch).write_pdf(stylesheets=sheets)
    return bytes(made)
