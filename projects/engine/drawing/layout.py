"""Lay out the piece, its sizes, its names and the caption on one page."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cached_property

from projects.engine.drawing.captions import caption
from projects.engine.drawing.names import Names, lay_names
from projects.engine.drawing.page import (
    Sheet,
    area_of,
    line_of,
    spare,
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
from projects.engine.drawing.settle import areas_of, around, page_around, settle
from projects.engine.drawing.sizes import Sizes, lay_sizes

# Names longer than their share of the page make room for numbers.
NAME_SHARE = 0.25
# In text sizes.
TEXT_CLEAR = 0.15


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

    @property
    def outside(self) -> frozenset[str]:
        """The parts whose names are led out."""
        return self.names.outside


def lay_out(
    scene: Scene,
    *,
    width_mm: float,
    height_mm: float,
    text_mm: float,
    least_unit: float,
) -> Drawing:
    """Lay out a scene on a page of a width, at most a height and a text size [mm]."""
    widest = NAME_SHARE * width_mm / text_mm

    def lay(sheet: Sheet, outside: frozenset[str]) -> _Round:
        return _lay(scene, sheet, outside, widest)

    laid, sheet, unit = settle(
        _bounds(scene.faces),
        lay,
        width_mm=width_mm,
        height_mm=height_mm,
        text_mm=text_mm,
        least_unit=least_unit,
    )
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
    lines = areas_of((*sizes.thin, *sizes.ticks, *names.leaders))
    extent = around([sheet.piece, *(text.area for text in texts), *lines])
    below = tuple(caption(CAPTIONS[scene.view], names.legend, extent, sheet))
    return _Round(
        sizes=sizes,
        names=names,
        texts=(*texts, *below),
        extent=around([extent, *(text.area for text in below)]),
        top=max(
            text.area.v2 if text.anchor == "middle" else sheet.piece.v2
            for text in (*texts, *below)
        ),
    )


def _finish(
    scene: Scene, laid: _Round, sheet: Sheet, *, unit: float, width: float
) -> Drawing:
    """Centre the page on what it holds, and break thin lines where texts stand."""
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
        page=page_around(laid.extent, sheet=sheet, width=width),
        text_size=sheet.text,
        unit=unit,
    )
