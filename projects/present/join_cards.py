"""Join cards: what stands on each, with its square for a phone's camera."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import segno
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from projects.members import Member
from projects.models import ShopClass

LONG_NAME = 28
"""From here on a name is set smaller, so that it stays inside the card."""


@dataclass(frozen=True, kw_only=True)
class JoinCard:
    """One card; `square` is a QR code of `url` as SVG, `typed` the address to type."""

    name: str
    class_title: str
    code: str
    url: str
    typed: str
    square: SafeString

    @property
    def is_long(self) -> bool:
        """Tell whether the name needs smaller letters."""
        return len(self.name) > LONG_NAME


def join_cards(
    members: Sequence[Member], shop_class: ShopClass, site: str
) -> list[JoinCard]:
    """Return a card for each member; `site` is the server's address for phones."""
    typed = f"{site.removeprefix('http://')}{reverse('join')}".rstrip("/")
    return [
        JoinCard(
            name=member.person.name,
            class_title=shop_class.title,
            code=member.shown_code,
            url=f"{site}{reverse('join-card', args=[member.code])}",
            typed=typed,
            square=qr_code(f"{site}{reverse('join-card', args=[member.code])}"),
        )
        for member in members
    ]


def qr_code(text: str) -> SafeString:
    """Draw a QR code that stands a smudge: level M, quiet zone of 4 (ISO/IEC 18004)."""
    made = segno.make(text, error="m", micro=False)
    # nothing of `text` stands in the drawing but its squares
    return mark_safe(  # noqa: S308
        made.svg_inline(border=4, light="#fff", omitsize=True)
    )
