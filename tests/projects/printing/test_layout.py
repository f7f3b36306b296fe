"""WeasyPrint fetches our own files and nothing else."""

import logging

import pypdfium2
import pytest
from django.conf import settings

from projects.printing import pdf
from projects.printing.layout import FILES, OwnFiles, lay_out

TEXT = pypdfium2.raw.FPDF_PAGEOBJ_TEXT

OUTSIDE = [
    "http://elsewhere.invalid/a.png",
    "https://127.0.0.1/a.png",
    "ftp://elsewhere.invalid/a.png",
    "file:///etc/passwd",
    (settings.BASE_DIR / "manage.py").as_uri(),
    f"{FILES.as_uri()}/../shopclass/settings.py",
    f"{FILES.as_uri()}/%2e%2e/shopclass/settings.py",
    f"file://elsewhere.invalid{FILES}/icon.svg",
    f"{FILES.as_uri()}-of-others/icon.svg",
    FILES.as_uri(),
    str(FILES / "icon.svg"),
]


class TestOwnFiles:
    @pytest.mark.parametrize("url", OUTSIDE)
    def test_everything_else_is_refused(self, url):
        with pytest.raises(ValueError, match="printing fetches nothing from"):
            OwnFiles().fetch(url)

    def test_our_own_are_opened(self):
        got = OwnFiles().fetch((FILES / "icon.svg").as_uri())

        assert b"<svg" in got.read()

    def test_a_file_that_is_not_there_is_an_error(self):
        with pytest.raises(OSError, match=r"nothing\.css"):
            OwnFiles().fetch((FILES / "nothing.css").as_uri())


class TestLayOut:
    def test_an_address_in_the_html_is_not_asked(self, caplog):
        html = '<p>x</p><img src="http://elsewhere.invalid/a.png">'
        with caplog.at_level(logging.WARNING):
            made = lay_out(html, style="cut_sheet.css", page_size="A4")

        assert made.startswith(b"%PDF-")
        assert "printing fetches nothing from" in caplog.text

    def test_it_uses_the_projects_own_font(self):
        made = lay_out("<p>Abc</p>", style="cut_sheet.css", page_size="Letter")

        page = pypdfium2.PdfDocument(made)[0]
        fonts = {text.get_font().get_base_name() for text in page.get_objects([TEXT])}
        assert all("National-Park" in font for font in fonts)
        assert fonts


class TestWithoutPango:
    def test_it_says_so(self, monkeypatch):
        monkeypatch.setattr(pdf, "can_print", lambda: False)

        with pytest.raises(pdf.NoPangoError):
            pdf.pdf("<p>x</p>", style="cut_sheet.css", paper="letter")
