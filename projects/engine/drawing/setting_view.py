"""Draw a part as it lies at a machine: its stop or fence, its cut, one or two sizes.

Seen from above the part is fed up the page with the stop or fence to its right; one
that is long that way is turned with its fence, so that it is fed to the left. The
two of a pair are drawn one above the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from projects.engine.drawing.block import Block
from projects.engine.drawing.captions import from_left
from projects.engine.drawing.laid_part import (
    LaidPart,
    cut_edges,
    outline,
    shapes,
    sides,
    turned,
)
from projects.engine.drawing.page import (
    Sheet,
    area_of,
    centred,
    clean,
    spare,
    text_width,
    wrap,
)
from projects.engine.drawing.records import (
    Area,
    DrawingError,
    Face,
    Picture,
    Rectangle,
    Text,
)
from projects.engine.drawing.settle import (
    around,
    check_above_zero,
    page_around,
    settle,
)
from projects.engine.drawing.sizes import lay_sizes

ZERO = Fraction(0)
# In text sizes.
REST_THICK = 0.7
REST_OVER = 0.8
REST_NAME = 1.0
TITLE_GAP = 1.1
TITLE_ROW = 1.4
TITLE_LEAST = 18
ROW_GAP = 1.6
TEXT_CLEAR = 0.15
LIFE_SIZE = 1


@dataclass(frozen=True, kw_only=True)
class _Round:
    """Keep one round's result; see `settle.Laid`."""

    drawn: Block
    extent: Area
    top: float
    outside: frozenset[str] = frozenset()


def setting_view(
    parts: Sequence[LaidPart],
    *,
    caption: str,
    description: str,
    width_mm: float = 95,
    height_mm: float = 100,
    text_mm: float = 3.4,
) -> Picture:
    """Draw one part at its stop or fence, or the two of a pair.

    Parameters
    ----------
    parts
        One part or two [mm].
    caption
        The drawing's title, not drawn itself.
    description
        The drawing in words, not drawn either.
    width_mm
        How wide the drawing will be shown [mm].
    height_mm
        How tall it may become [mm].
    text_mm
        Text size [mm] at that width.

    Raises
    ------
    DrawingError
        If a width, height or text size is not above 0, or there is no part.
    """
    check_above_zero(width_mm=width_mm, height_mm=height_mm, text_mm=text_mm)
    if not parts:
        raise DrawingError("there is no part to draw")
    shown = [turned(part) if part.is_turned else part for part in parts]
    piece = Area(
        u1=0,
        v1=0,
        u2=float(max(part.across_mm for part in shown)),
        v2=float(sum(part.along_mm for part in shown)),
    )
    laid, page, unit = settle(
        piece,
        lambda page, _outside: _lay(parts, page),
        width_mm=width_mm,
        height_mm=height_mm,
        text_mm=text_mm,
        least_unit=LIFE_SIZE,
    )
    block = laid.drawn
    clear = [text.area.grown(TEXT_CLEAR * page.text) for text in block.texts]
    return Picture(
        kind="part",
        caption=caption,
        description=description,
        shapes=block.shapes,
        visible=block.visible,
        hidden=block.hidden,
        thin=tuple(p for line in block.thin for p in spare(line, clear)),
        ticks=block.ticks,
        texts=block.texts,
        page=page_around(block.extent, sheet=page, width=width_mm * unit),
        text_size=page.text,
        unit=unit,
    )


def _lay(parts: Sequence[LaidPart], page: Sheet) -> _Round:
    """Stack the parts from the top of the piece down; shared sizes stand below."""
    t = page.text
    drawn = Block()
    below = page.piece.v2
    for number, part in enumerate(parts):
        rest = parts[number + 1 :]
        # sizes across that the next part has too stand below that one
        shared = {s for other in rest if not other.is_turned for s in other.sizes}
        own = tuple(s for s in part.sizes if s.axis != "x" or s not in shared)
        block = _part(part if part.is_turned else replace(part, sizes=own), t)
        block = block.moved(below - block.extent.v2)
        drawn = drawn.plus(block)
        below = block.extent.v1 - ROW_GAP * t
    extent = around([drawn.extent, page.piece])
    return _Round(drawn=drawn, extent=extent, top=extent.v2)


def _part(part: LaidPart, t: float) -> Block:
    """Lay out one part with its lower left corner at 0."""
    is_turned = part.is_turned
    laid = turned(part) if is_turned else part
    whole = Rectangle(u=(ZERO, laid.across_mm), v=(ZERO, laid.along_mm))
    area = area_of(whole)
    rectangles = [whole, *([laid.cut] if laid.cut else [])]
    faces = [Face(key="", name="", u=r.u, v=r.v, near=ZERO) for r in rectangles]
    sizes = lay_sizes(
        laid.sizes, faces=faces, axes=("x", "y"), sheet=Sheet(piece=area, text=t)
    )
    cut = tuple(cut_edges(laid, laid.cut)) if laid.cut else ()
    block = Block(
        shapes=tuple(shapes(laid, rectangles)),
        visible=(
            *outline(laid, area),
            *(() if laid.hidden else cut),
        ),
        hidden=cut if laid.hidden else (),
        thin=sizes.thin,
        ticks=sizes.ticks,
        texts=sizes.texts,
    )
    if part.rest:
        rest = _rest(part.rest, area, t, above=is_turned)
        block = block.plus(rest if part.has_rest else replace(rest, visible=()))
    lead = f"{'←' if is_turned else '↑'} {part.lead}" if part.lead else ""
    title = _title((part.title, lead), area, block.extent.v2, t)
    return block.plus(Block(texts=tuple(title)))


def _rest(words: str, part: Area, t: float, *, above: bool) -> Block:
    """Draw the stop or fence at a part, with its name beside it."""
    thick, over = REST_THICK * t, REST_OVER * t
    width = text_width(clean(words)) * t
    if above:
        bar = Area(u1=part.u1 - over, v1=part.v2, u2=part.u2 + over, v2=part.v2 + thick)
        at = bar.v2 + REST_NAME * t
        name = from_left("end", clean(words), part.u1, at, t)
        return Block(visible=sides(bar), texts=(name,))
    bar = Area(u1=part.u2, v1=part.v1 - over, u2=part.u2 + thick, v2=part.v2 + over)
    middle = (part.v1 + part.v2) / 2
    if width <= bar.v2 - bar.v1:
        area = centred(bar.u2 + REST_NAME * t, middle, width=t, height=width)
        name = Text(words=clean(words), kind="end", area=area, rotated=True)
    else:
        name = from_left("end", clean(words), bar.u2 + TEXT_CLEAR * 4 * t, middle, t)
    return Block(visible=sides(bar), texts=(name,))


def _title(words: Sequence[str], part: Area, above: float, t: float) -> Iterator[Text]:
    """Set a part's title and what leads in lines above it."""
    room = max((part.u2 - part.u1) / t, TITLE_LEAST)
    lines = [line for said in words if said for line in wrap(clean(said), width=room)]
    for number, line in enumerate(reversed(lines)):
        at = above + (TITLE_GAP + number * TITLE_ROW) * t
        yield from_left("legend", line, part.u1, at, t)
