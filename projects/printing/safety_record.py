"""A student's safety record on paper, for a school office."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.template.loader import render_to_string

from projects.models import Build
from projects.present.safety_record import MachineBlock
from projects.printing.pdf import pdf


def safety_record_pdf(
    build: Build, blocks: Sequence[MachineBlock], *, paper: str, at: datetime
) -> bytes:
    """Return the record as a PDF; raises what `pdf` raises."""
    context = {"build": build, "blocks": blocks, "made_at": at}
    html = render_to_string("projects/print/safety_record.html", context)
    return pdf(html, style="safety_record.css", paper=paper)
