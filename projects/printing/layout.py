"""WeasyPrint, with nothing to fetch but our own files.

Importing this fails with `OSError` where the computer lacks pango; only `pdf`
imports it.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

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
        if url.startswith("data:image/jpeg;base64,"):
            # a photo from our own database, re-encoded by `pictures.clean`
            return super().fetch(url, *args, **kwargs)
        parts = urlsplit(url)
        # decoded as the fetch will, so that %2e%2e is seen for what it is
        path = Path(url2pathname(parts.path)).resolve()
        ours = FILES.resolve() in path.parents
        if parts.scheme != "file" or parts.netloc or not ours:
            raise ValueError(f"printing fetches nothing from {url}")
        return super().fetch(path.as_uri(), *args, **kwargs)


class Stack:
    """Texts laid out one after the other, in one PDF; each has its own page numbers."""

    def __init__(self, *, style: str, page_size: str) -> None:
        self._fetcher, self._fonts = OwnFiles(), FontConfiguration()
        self._sheets = [
            CSS(
                filename=str(FILES / "print" / style),
                url_fetcher=self._fetcher,
                font_config=self._fonts,
            ),
            CSS(string=f"@page {{ size: {page_size} }}"),
        ]
        self._documents: list[Any] = []

    def add(self, html: str) -> None:
        """Lay out one more text; it begins on a page of its own."""
        document = HTML(string=html, url_fetcher=self._fetcher)
        self._documents.append(
            document.render(stylesheets=self._sheets, font_config=self._fonts)
        )

    def write(self) -> bytes:
        """Return the PDF of all that was added."""
        pages = [page for document in self._documents for page in document.pages]
        return bytes(self._documents[0].copy(pages).write_pdf())


def lay_out(html: str, *, style: str, page_size: str) -> bytes:
    """Return `html` as a PDF with the print style sheet `style` on `page_size`."""
    stack = Stack(style=style, page_size=page_size)
    stack.add(html)
    return stack.write()
