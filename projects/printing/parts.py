"""A build's part drawings on paper."""

from __future__ import annotations

from datetime import datetime

from django.template.loader import render_to_string

from projects.engine.fit.solve import Solution
from projects.models import Build
from projects.present.part_drawings import part_pictures
from projects.printing.pdf import pdf
from projects.showing import Showing

PAPER_MM = 180.0
MOST_MM = 160.0
"""How high a drawing may stand, so that it and its words fit on a page together."""


def parts_pdf(
    build: Build, solution: Solution, showing: Showing, *, paper: str, at: datetime
) -> bytes:
    """Return the drawings as a PDF; raises what `pdf` raises."""
    context = {
        "build": build,
        "showing": showing,
        "pictures": part_pictures(
            solution, showing, width_mm=PAPER_MM, height_mm=MOST_MM
        ),
        "made_at": at,
    }
    html = render_to_string("projects/print/parts.html", context)
    return pdf(html, style="parts.css", paper=paper)
