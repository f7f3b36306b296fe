"""Lay out the piece, its sizes, its names and the caption on one page."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil
from typing import Literal

from projects.engine.drawing.names import Names, lay_names
from projects.engine.drawing.page import (
    Sheet,
    area_of,
    centred,
    line_of,
    shorten,
    spare,
    text_width,
)
from projects.engine.drawing.project import CAPTIONS, PICTURE_AXES
from projects.engine.drawing.records import (
    Area,
    Dimension,
    Drawing,
    Face,
    Rectangle,
    Sight,
    Text,
    View,
)
from projects.engine.drawing.sizes import Sizes, lay_sizes

# The piece keeps at least this share of the page, even if the page then has to
# grow beyond the width asked for. Names longer than their share make room for
# numbers.
PIECE_SHARE = 0.25
NAME_SHARE = 0.25
# Margins and names depend on the scale and the scale on them. They settle in two
# or three rounds; after the last one the page is made to hold what it holds.
ROUNDS = 6
# In text sizes.
CAPTION_GAP = 1.4
LEGEND_ROW = 1.4
LEGEND_GAP = 2
LEGEND_LEAST = 12
TEXT_CLEAR = 0.15
PAGE_EDGE = 0.3


@dataclass(frozen=True, kw_only=True)
class Scene:
    """Keep all that is to be shown."""

    view: View
    faces: tuple[Face, ...]
    sight: Sight
    dimensions: tuple[Dimension, ...]
    description: str

    @cached_property
    def shown(self) -> dict[str, list[Area]]:
        """Return what is seen of each part, in floats."""
        seen = self.sight.seen
        return {key: [area_of(r) for r in areas] for key, areas in seen.items()}

    @cached_property
    def outlines(self) -> dict[str, Area]:
        """Return the whole outline of each part, in floats."""
        return {f.key: area_of(Rectangle(u=f.u, v=f.v)) for f in self.faces}

    @cached_property
    def lines(self) -> list[Area]:
        """Return all stretches of outline, seen and hidden, in floats."""
        return [line_of(segment) for segment in self.sight.segments]


@dataclass(frozen=True, kw_only=True)
class _Margins:
    """Keep the room beside the piece, in text sizes."""

    left: float = 0
    right: float = 0
    bottom: float = 0
    top: float = 0


@dataclass(frozen=True, kw_only=True)
class _Round:
    """Keep one round's result and the area that holds all of it.

    `top` is how high it reaches without the list of names: a list taller than the
    piece makes the page taller, not the piece smaller.
    """

    sizes: Sizes
    names: Names
    texts: tuple[Text, ...]
    extent: Area
    top: float


def lay_out(
    scene: Scene,
    *,
    width_mm: float,
    height_mm: float,
    text_mm: float,
    least_unit: float,
) -> Drawing:
    """Lay out a scene on a page of a width, at most a height and a text size [mm]."""
    piece = _bounds(scene.faces)
    margins = _Margins()
    outside: frozenset[str] = frozenset()
    widest = NAME_SHARE * width_mm / text_mm
    for _ in range(ROUNDS):
        room_u = width_mm - (margins.left + margins.right) * text_mm
        room_v = height_mm - (margins.bottom + margins.top) * text_mm
        unit = max(
            least_unit,
            (piece.u2 - piece.u1) / max(room_u, PIECE_SHARE * width_mm),
            (piece.v2 - piece.v1) / max(room_v, PIECE_SHARE * height_mm),
        )
        sheet = Sheet(piece=piece, text=text_mm * unit)
        laid = _lay(scene, sheet, outside, widest)
        wanted = _widen(margins, laid, sheet)
        if wanted == margins and laid.names.outside == outside:
            break
        margins, outside = wanted, outside | laid.names.outside
    return _finish(scene, laid, sheet, unit=unit, width=width_mm * unit)


def _bounds(faces: Sequence[Face]) -> Area:
    return Area(
        u1=float(min(face.u[0] for face in faces)),
        v1=float(min(face.v[0] for face in faces)),
        u2=float(max(face.u[1] for face in faces)),
        v2=float(max(face.v[1] for face in faces)),
    )


def _lay(scene: Scene, sheet: Sheet, outside: Collection[str], widest: float) -> _Round:
    names = lay_names(
        scene.faces,
        shown=scene.shown,
        outlines=scene.outlines,
        lines=scene.lines,
        sheet=sheet,
        outside=outside,
        widest=widest,
    )
    sizes = lay_sizes(
        scene.dimensions,
        faces=scene.faces,
        axes=PICTURE_AXES[scene.view],
        sheet=sheet,
    )
    texts = (*names.texts, *sizes.texts)
    lines = [
        Area(
            u1=min(line.u1, line.u2),
            v1=min(line.v1, line.v2),
            u2=max(line.u1, line.u2),
            v2=max(line.v1, line.v2),
        )
        for line in (*sizes.thin, *sizes.ticks, *names.leaders)
    ]
    extent = _around([sheet.piece, *(text.area for text in texts), *lines])
    below = tuple(_caption(scene.view, names.legend, extent, sheet))
    return _Round(
        sizes=sizes,
        names=names,
        texts=(*texts, *below),
        extent=_around([extent, *(text.area for text in below)]),
        top=max(
            text.area.v2 if text.anchor == "middle" else sheet.piece.v2
            for text in (*texts, *below)
        ),
    )


def _caption(
    view: View, legend: Sequence[str], extent: Area, sheet: Sheet
) -> Iterator[Text]:
    """Set the caption below everything, and the legend in columns below that."""
    t = sheet.text
    v = extent.v1 - CAPTION_GAP * t
    yield _from_left("caption", CAPTIONS[view], extent.u1, v, t)
    room = (extent.u2 - extent.u1) / t
    column = LEGEND_GAP + max((text_width(entry) for entry in legend), default=0)
    columns = max(1, int((room + LEGEND_GAP) / column))
    for number, entry in enumerate(legend):
        row, place = divmod(number, columns)
        u = extent.u1 + place * column * t
        words = shorten(entry, width=max(room, LEGEND_LEAST))
        yield _from_left("legend", words, u, v - (row + 1) * LEGEND_ROW * t, t)


def _from_left(
    kind: Literal["caption", "legend"], words: str, u: float, v: float, text: float
) -> Text:
    width = text_width(words) * text
    area = centred(u + width / 2, v, width=width, height=text)
    return Text(words=words, kind=kind, anchor="start", area=area)


def _around(areas: Sequence[Area]) -> Area:
    return Area(
        u1=min(area.u1 for area in areas),
        v1=min(area.v1 for area in areas),
        u2=max(area.u2 for area in areas),
        v2=max(area.v2 for area in areas),
    )


def _widen(margins: _Margins, laid: _Round, sheet: Sheet) -> _Margins:
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


def _finish(
    scene: Scene, laid: _Round, sheet: Sheet, *, unit: float, width: float
) -> Drawing:
    """Centre the page on what it holds, and break thin lines where texts stand."""
    extent = laid.extent.grown(PAGE_EDGE * sheet.text)
    slack = max(0.0, width - (extent.u2 - extent.u1)) / 2
    clear = [text.area.grown(TEXT_CLEAR * sheet.text) for text in laid.texts]
    thin = (*laid.sizes.thin, *laid.names.leaders)
    return Drawing(
        view=scene.view,
        caption=CAPTIONS[scene.view],
        description=scene.description,
        faces=scene.faces,
        sight=scene.sight,
        thin=tuple(part for line in thin for part in spare(line, clear)),
        ticks=laid.sizes.ticks,
        dots=laid.names.dots,
        texts=laid.texts,
        page=Area(
            u1=extent.u1 - slack, v1=extent.v1, u2=extent.u2 + slack, v2=extent.v2
        ),
        text_size=sheet.text,
        unit=unit,
    )
