"""Machine posters: one page each, to hang beside the machine."""

from __future__ import annotations

from collections.abc import Iterable

from django.template.loader import render_to_string
from django.utils import timezone

from projects.models import Machine
from projects.present.posters import posters
from projects.printing.pdf import pdf


def posters_pdf(machines: Iterable[Machine], *, paper: str) -> bytes:
    """Return the posters of machines as a PDF; raises what `pdf` raises."""
    context = {"posters": posters(machines), "made_at": timezone.now()}
    html = render_to_string("projects/print/posters.html", context)
    return pdf(html, style="posters.css", paper=paper)
