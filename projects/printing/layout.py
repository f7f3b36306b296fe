"""WeasyPrint, with nothing to fetch but our own files.

Importing this fails with `OSError` where the computer lacks pango; only `pdf`
imports it.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher

FILES = Path(settings.BASE_DIR) / "static"


# weasyprint has no types, so its classes are Any to mypy
class OwnFiles(URLFetcher):  # type: ignore[misc]
    """Open our own fonts and style sheets; refuse every other address."""

    def fetch(self, url: str, *args: Any, **kwargs: Any) -> Any:
        """Return the file at `url`."""
        path = Path(url.removeprefix("file://")).resolve()
        if not url.startswith("file://") or FILES.resolve() not in path.parents:
            raise ValueError(f"printing fetches nothing from {url}")
        return super().fetch(url, *args, **kwargs)


def lay_out(html: str, *, style: str, page_size: str) -> bytes:
    """Return `html` as a PDF with the print style sheet `style` on `page_size`."""
    fetcher, fonts = OwnFiles(), FontConfiguration()
    sheets = [
        CSS(
            filename=str(FILES / "print" / style),
            url_fetcher=fetcher,
            font_config=fonts,
        ),
        CSS(string=f"@page {{ size: {page_size} }}"),
    ]
    document = HTML(string=html, url_fetcher=fetcher)
    return bytes(document.write_pdf(stylesheets=sheets, font_config=fonts))
