"""Set a caption below a drawing, and the key to its numbers below that."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from projects.engine.drawing.page import Sheet, centred, shorten, text_width
from projects.engine.drawing.records import Area, Text, TextKind

# In text sizes.
CAPTION_GAP = 1.4
LEGEND_ROW = 1.4
LEGEND_GAP = 2
LEGEND_LEAST = 12


def caption(
    words: str, legend: Sequence[str], extent: Area, sheet: Sheet
) -> Iterator[Text]:
    """Set the caption below everything, and the legend in columns below that."""
    t = sheet.text
    v = extent.v1 - CAPTION_GAP * t
    yield from_left("caption", words, extent.u1, v, t)
    room = (extent.u2 - extent.u1) / t
    column = LEGEND_GAP + max((text_width(entry) for entry in legend), default=0)
    columns = max(1, int((room + LEGEND_GAP) / column))
    for number, entry in enumerate(legend):
        row, place = divmod(number, columns)
        u = extent.u1 + place * column * t
        entry = shorten(entry, width=max(room, LEGEND_LEAST))
        yield from_left("legend", entry, u, v - (row + 1) * LEGEND_ROW * t, t)


def from_left(kind: TextKind, words: str, u: float, v: float, text: float) -> Text:
    """Set words that begin at u, with their middle at v."""
    width = text_width(words) * text
    area = centred(u + width / 2, v, width=width, height=text)
    return Text(words=words, kind=kind, anchor="start", area=area)
