"""Part drawings on paper: of a build at its student's sizes, of a plan at its own."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import ceil

from django.template.loader import render_to_string

from projects.engine.fit.solve import Solution
from projects.models import Build, Revision
from projects.present.drawings import piece_drawings
from projects.present.part_drawings import part_pictures
from projects.printing.pdf import pdf
from projects.showing import Showing

PAPER_MM = 180.0
FIGURES_MM = (115.0, 64.0)
PAGE_MM = {"letter": 239.0, "a4": 257.0}
"""How high a page is between its margins."""
AROUND_MM = 17.0
"""What a part's title and the room around it take of that, with some to spare."""
LINE_MM, LINE_LETTERS = 5.6, 86
"""How high a line of words is, and about how many letters stand in one."""


def parts_pdf(
    revision: Revision,
    build: Build | None,
    solution: Solution,
    showing: Showing,
    *,
    paper: str,
    at: datetime,
) -> bytes:
    """Return the drawings as a PDF; raises what `pdf` raises.

    The piece comes first, with what is drawn; then each part as large as a page with
    its words allows. Without a build they are the plan's.
    """

    def height_of(lines: Sequence[str]) -> float:
        rows = sum(ceil(len(line) / LINE_LETTERS) for line in lines)
        return max(PAGE_MM[paper] - AROUND_MM - rows * LINE_MM, PAGE_MM[paper] / 2)

    context = {
        "revision": revision,
        "build": build,
        "showing": showing,
        "piece": piece_drawings(solution, showing, widths_mm=FIGURES_MM),
        "pictures": part_pictures(
            solution, showing, width_mm=PAPER_MM, height_of=height_of
        ),
        "made_at": at,
    }
    html = render_to_string("projects/print/parts.html", context)
    return pdf(html, style="parts.css", paper=paper)
