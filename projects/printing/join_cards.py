"""The join cards of a class, eight a page with lines to cut along."""

from __future__ import annotations

from collections.abc import Sequence

from django.template.loader import render_to_string

from projects.models import ShopClass
from projects.present.join_cards import JoinCard
from projects.printing.pdf import pdf


def join_cards_pdf(
    shop_class: ShopClass, cards: Sequence[JoinCard], *, paper: str
) -> bytes:
    """Return the cards as a PDF; raises what `pdf` raises."""
    rows = [cards[first : first + 2] for first in range(0, len(cards), 2)]
    context = {"shop_class": shop_class, "rows": rows}
    html = render_to_string("projects/print/join_cards.html", context)
    return pdf(html, style="join_cards.css", paper=paper)
