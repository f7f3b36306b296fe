"""The roster of a class with its join codes: private."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.template.loader import render_to_string

from projects.members import Member
from projects.models import ShopClass
from projects.printing.pdf import pdf


def roster_pdf(
    shop_class: ShopClass, students: Sequence[Member], *, paper: str, at: datetime
) -> bytes:
    """Return the roster as a PDF; raises what `pdf` raises."""
    context = {"shop_class": shop_class, "students": students, "made_at": at}
    html = render_to_string("projects/print/roster.html", context)
    return pdf(html, style="roster.css", paper=paper)
