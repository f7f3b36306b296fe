"""A class's sign-offs on paper: students by machines, with boxes to sign by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from math import ceil

from django.template.loader import render_to_string

from projects.models import Machine, ShopClass
from projects.present.machines import ClassRow
from projects.printing.pdf import pdf
from projects.signoffs import MachineRecord

MOST_COLUMNS = 7
"""How many machines stand side by side, so that a hand can sign in a box."""


@dataclass(frozen=True, kw_only=True)
class Table:
    """Some of the machines, and every student's record at them."""

    machines: tuple[Machine, ...]
    rows: list[tuple[str, tuple[MachineRecord, ...]]]


def sign_offs_pdf(
    shop_class: ShopClass,
    machines: Sequence[Machine],
    rows: Sequence[ClassRow],
    *,
    paper: str,
    at: datetime,
) -> bytes:
    """Return the sheet as a PDF, landscape; raises what `pdf` raises."""
    tables = []
    columns = ceil(len(machines) / (ceil(len(machines) / MOST_COLUMNS) or 1))
    for first in range(0, len(machines), columns or 1):
        here = slice(first, first + columns)
        tables.append(
            Table(
                machines=tuple(machines[here]),
                rows=[(row.build.student.name, row.cells[here]) for row in rows],
            )
        )
    context = {
        "shop_class": shop_class,
        "tables": tables,
        "paper": paper,
        "made_at": at,
    }
    html = render_to_string("projects/print/sign_offs.html", context)
    return pdf(html, style="sign_offs.css", paper=paper)
