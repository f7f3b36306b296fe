"""Draw a piece as it looks from the front, the right and above at once."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from projects.engine.drawing.axes import lay_along_axes
from projects.engine.drawing.captions import caption
from projects.engine.drawing.isometric import Lines, Solids, lines, shapes, solids
from projects.engine.drawing.labels import Labels, Spots, find_spots, lay_labels
from projects.engine.drawing.page import Sheet, clean, spare
from projects.engine.drawing.project import check_keys
from projects.engine.drawing.records import Area, Box, Dimension, Picture, Text
from projects.engine.drawing.settle import (
    areas_of,
    around,
    check_above_zero,
    page_around,
    settle,
)
from projects.engine.drawing.sizes import Sizes

CAPTION = "From the front, the right and above"
# Names longer than their share of the page make room for numbers.
NAME_SHARE = 0.25
TEXT_CLEAR = 0.15


@dataclass(frozen=True, kw_only=True)
class _Scene:
    """Keep all that is to be shown."""

    piece: Solids
    names: tuple[str, ...]
    lines: Lines
    spots: tuple[Spots, ...]
    overall: tuple[Dimension, ...]


@dataclass(frozen=True, kw_only=True)
class _Round:
    """Keep one round's result; see `settle.Laid`."""

    sizes: Sizes
    labels: Labels
    texts: tuple[Text, ...]
    extent: Area
    top: float

    @property
    def outside(self) -> frozenset[str]:
        """The parts whose names are led out."""
        return self.labels.outside


def pictorial(
    boxes: Sequence[Box],
    *,
    housed: Collection[tuple[str, str]] = (),
    overall: Sequence[Dimension] = (),
    hidden: bool = False,
    width_mm: float = 180,
    height_mm: float = 200,
    text_mm: float = 4.3,
) -> Picture:
    """Draw a piece in isometric view from the front, the right and above.

    What is seen is exact, also where parts overlap: the edge of a housing shows
    where the guest meets the host, and what of either lies in the other does not.

    Parameters
    ----------
    boxes
        The parts [mm], each key once.
    housed
        Pairs (hidden key, shown key), as for `elevation`: where both show on one
        surface the first is drawn only outside the second.
    overall
        Sizes of the whole piece to show along its edges [mm], one an axis.
    hidden
        Whether to draw hidden lines, dashed.
    width_mm
        How wide the drawing will be shown [mm].
    height_mm
        How tall it may become [mm], a list of many names apart.
    text_mm
        Text size [mm] at that width.

    Raises
    ------
    DrawingError
        If there is no box, a key comes twice, or a width, height or text size is
        not above 0.

    Examples
    --------
    >>> from fractions import Fraction
    >>> ends = Fraction(0), Fraction(300)
    >>> picture = pictorial([Box(key="cube", name="Cube", x=ends, y=ends, z=ends)])
    >>> len(picture.visible), [text.words for text in picture.texts][:1]
    (9, ['Cube'])
    """
    check_above_zero(width_mm=width_mm, height_mm=height_mm, text_mm=text_mm)
    check_keys(boxes)
    piece = solids(boxes, housed=housed)
    drawn = lines(piece, hidden=hidden)
    scene = _Scene(
        piece=piece,
        names=tuple(clean(box.name) or box.key for box in boxes),
        lines=drawn,
        spots=find_spots(piece, drawn.seen),
        overall=tuple(overall),
    )
    widest = NAME_SHARE * width_mm / text_mm

    def lay(sheet: Sheet, outside: frozenset[str]) -> _Round:
        return _lay(scene, sheet, outside, widest)

    laid, sheet, unit = settle(
        around(areas_of(drawn.seen)),
        lay,
        width_mm=width_mm,
        height_mm=height_mm,
        text_mm=text_mm,
    )
    clear = [text.area.grown(TEXT_CLEAR * sheet.text) for text in laid.texts]
    thin = (*laid.sizes.thin, *laid.labels.leaders)
    return Picture(
        kind="pictorial",
        caption=CAPTION,
        description=_describe(scene),
        shapes=shapes(boxes, piece),
        visible=drawn.seen,
        hidden=drawn.hidden,
        thin=tuple(part for line in thin for part in spare(line, clear)),
        ticks=laid.sizes.ticks,
        dots=laid.labels.dots,
        texts=laid.texts,
        page=page_around(laid.extent, sheet=sheet, width=width_mm * unit),
        text_size=sheet.text,
        unit=unit,
    )


def _lay(
    scene: _Scene, sheet: Sheet, outside: Collection[str], widest: float
) -> _Round:
    sizes = lay_along_axes(scene.overall, piece=scene.piece, sheet=sheet)
    labels = lay_labels(
        scene.names,
        keys=scene.piece.keys,
        spots=scene.spots,
        sheet=_beside(sizes, sheet),
        outside=outside,
        widest=widest,
    )
    texts = (*labels.texts, *sizes.texts)
    drawn = areas_of((*sizes.thin, *sizes.ticks, *labels.leaders))
    extent = around([sheet.piece, *(text.area for text in texts), *drawn])
    below = tuple(caption(CAPTION, labels.legend, extent, sheet))
    return _Round(
        sizes=sizes,
        labels=labels,
        texts=(*texts, *below),
        extent=around([extent, *(text.area for text in below)]),
        top=max(
            text.area.v2 if text.anchor == "middle" else sheet.piece.v2
            for text in (*texts, *below)
        ),
    )


def _beside(sizes: Sizes, sheet: Sheet) -> Sheet:
    """Return the sheet with the piece widened by the sizes to its right."""
    piece = sheet.piece
    right = max([piece.u2, *(area.u2 for area in areas_of(sizes.ticks))])
    wider = Area(u1=piece.u1, v1=piece.v1, u2=right, v2=piece.v2)
    return Sheet(piece=wider, text=sheet.text)


def _describe(scene: _Scene) -> str:
    """Name the parts seen, those hidden, and the sizes shown."""
    named = list(zip(scene.names, scene.spots, strict=True))
    seen = [name for name, spots in named if spots.places]
    hidden = [name for name, spots in named if not spots.places]
    sentences = [f"Seen: {', '.join(seen)}."]
    if hidden:
        sentences.append(f"Hidden: {', '.join(hidden)}.")
    if scene.overall:
        sizes = "; ".join(clean(f"{d.name} {d.text}") for d in scene.overall)
        sentences.append(f"Sizes: {sizes}.")
    return " ".join(sentences)
