"""A class's log of near misses on paper, for the office."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.template.loader import render_to_string

from projects.models import ShopClass
from projects.present.near_misses import Entry
from projects.printing.pdf import pdf


def near_miss_pdf(
    shop_class: ShopClass, entries: Sequence[Entry], *, paper: str, at: datetime
) -> bytes:
    """Return the log as a PDF; raises what `pdf` raises."""
    context = {"shop_class": shop_class, "entries": entries, "made_at": at}
    html = render_to_string("projects/print/near_misses.html", context)
    return pdf(html, style="near_misses.css", paper=paper)
