"""A machine's run sheet on paper: a setup a block, with boxes to tick."""

from __future__ import annotations

from django.template.loader import render_to_string

from projects.present.run_sheet import RunSheetPage
from projects.printing.pdf import pdf
from projects.run_sheets import Night


def run_sheet_pdf(night: Night, page: RunSheetPage, *, paper: str) -> bytes:
    """Return the sheet as a PDF; raises what `pdf` raises."""
    context = {
        "shop_class": night.shop_class,
        "machine": night.machine,
        "meeting": night.meeting,
        "page": page,
        "made_at": night.roll.now,
    }
    html = render_to_string("projects/print/run_sheet.html", context)
    return pdf(html, style="run_sheet.css", paper=paper)
