"""Find the scale at which a piece and all that stands around it fill a page.

Margins depend on the scale and the scale on them. They settle in two or three
rounds; after the last one the page is made to hold what it holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Protocol, TypeVar

from projects.engine.drawing.page import Sheet
from projects.engine.drawing.records import Area, DrawingError, Stroke

# The piece keeps at least this share of the page, even if the page then has to
# grow beyond the width asked for.
PIECE_SHARE = 0.25
ROUNDS = 6
# In text sizes.
PAGE_EDGE = 0.3


class Laid(Protocol):
    """One round's result.

    `extent` holds all of it, `top` is how high it may not be cut short of: a list
    taller than the piece makes the page taller, not the piece smaller. `outside`
    holds the keys of the parts whose names are led out.
    """

    @property
    def extent(self) -> Area:
        """The area that holds all of it."""

    @property
    def top(self) -> float:
        """How high it reaches without a list beside the piece."""

    @property
    def outside(self) -> frozenset[str]:
        """The parts whose names are led out, by key."""


@dataclass(frozen=True, kw_only=True)
class _Margins:
    """Keep the room beside the piece, in text sizes."""

    left: float = 0
    right: float = 0
    bottom: float = 0
    top: float = 0


AnyLaid = TypeVar("AnyLaid", bound=Laid)


def settle(
    piece: Area,
    lay: Callable[[Sheet, frozenset[str]], AnyLaid],
    *,
    width_mm: float,
    height_mm: float,
    text_mm: float,
    least_unit: float = 0,
) -> tuple[AnyLaid, Sheet, float]:
    """Lay out a piece [mm] on a page of a width, height and text size [mm].

    Return the last round, the sheet it was laid on, and how many mm of the piece one
    mm of the page shows. `lay` gets the sheet and the parts whose names to lead out.
    """
    margins = _Margins()
    outside: frozenset[str] = frozenset()
    for _ in range(ROUNDS):
        room_u = width_mm - (margins.left + margins.right) * text_mm
        room_v = height_mm - (margins.bottom + margins.top) * text_mm
        unit = max(
            least_unit,
            (piece.u2 - piece.u1) / max(room_u, PIECE_SHARE * width_mm),
            (piece.v2 - piece.v1) / max(room_v, PIECE_SHARE * height_mm),
        )
        sheet = Sheet(piece=piece, text=text_mm * unit)
        laid = lay(sheet, outside)
        wanted = _widen(margins, laid, sheet)
        if wanted == margins and laid.outside == outside:
            break
        margins, outside = wanted, outside | laid.outside
    return laid, sheet, unit


def around(areas: Sequence[Area]) -> Area:
    """Return the area that holds them all."""
    return Area(
        u1=min(area.u1 for area in areas),
        v1=min(area.v1 for area in areas),
        u2=max(area.u2 for area in areas),
        v2=max(area.v2 for area in areas),
    )


def areas_of(strokes: Iterable[Stroke]) -> list[Area]:
    """Return the areas that lines span."""
    return [
        Area(
            u1=min(line.u1, line.u2),
            v1=min(line.v1, line.v2),
            u2=max(line.u1, line.u2),
            v2=max(line.v1, line.v2),
        )
        for line in strokes
    ]


def page_around(extent: Area, *, sheet: Sheet, width: float) -> Area:
    """Return the page: an extent with an edge, centred in a width if that is more."""
    page = extent.grown(PAGE_EDGE * sheet.text)
    slack = max(0.0, width - (page.u2 - page.u1)) / 2
    return Area(u1=page.u1 - slack, v1=page.v1, u2=page.u2 + slack, v2=page.v2)


def check_above_zero(**sizes_mm: float) -> None:
    """Raise `DrawingError` for a size [mm] that is not above 0."""
    for name, size in sizes_mm.items():
        if not size > 0:
            raise DrawingError(
                "{name} must be above 0 mm (got {size})", name=name, size=size
            )


def _widen(margins: _Margins, laid: Laid, sheet: Sheet) -> _Margins:
    piece, extent = sheet.piece, laid.extent

    def room(now: float, needed: float) -> float:
        # Whole tenths, so that the rounds come to rest.
        return max(now, ceil(10 * (needed / sheet.text + PAGE_EDGE)) / 10)

    return _Margins(
        left=room(margins.left, piece.u1 - extent.u1),
        right=room(margins.right, extent.u2 - piece.u2),
        bottom=room(margins.bottom, piece.v1 - extent.v1),
        top=room(margins.top, laid.top - piece.v2),
    )
