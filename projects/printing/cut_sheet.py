"""A student's cut sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.template.loader import render_to_string
from django.utils import timezone

from projects.engine.fit.solve import Solution
from projects.engine.sheet import cut_sheet
from projects.models import Build, Reading
from projects.present.drawings import piece_drawings
from projects.present.history import used_lines
from projects.present.sheet_machines import SheetMachine
from projects.printing.pdf import pdf
from projects.showing import Showing

FIGURES_MM = (120.0, 66.0)
"""How wide the front and the side stand on paper, so that text is true to size."""


def sheet_context(
    build: Build,
    rows: Sequence[Reading],
    solution: Solution,
    showing: Showing,
    *,
    machines: Sequence[SheetMachine] | None = None,
) -> dict[str, Any]:
    """Return what the sheet's template shows, on a page and on paper alike.

    `machines` say where its student stands with those that the steps use.
    """
    return {
        "build": build,
        "sheet": cut_sheet(solution),
        "solution": solution,
        "showing": showing,
        "drawings": piece_drawings(solution, showing, widths_mm=FIGURES_MM),
        "used": used_lines(rows, solution.plan),
        "machines": machines,
        "made_at": timezone.now(),
    }


def cut_sheet_pdf(
    build: Build,
    rows: Sequence[Reading],
    solution: Solution,
    showing: Showing,
    *,
    paper: str,
    machines: Sequence[SheetMachine] | None = None,
) -> bytes:
    """Return the sheet as a PDF; raises `NoPangoError` where none can be made."""
    context = sheet_context(build, rows, solution, showing, machines=machines)
    html = render_to_string("projects/print/cut_sheet.html", context)
    return pdf(html, style="cut_sheet.css", paper=paper)
