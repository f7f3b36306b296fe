"""A draft drawn: what is fixed at its size, the rest by guess."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from html import escape

from django.utils.translation import gettext_lazy as _

from projects.engine.draft.records import Drawn, Look
from projects.engine.drawing import (
    Dimension,
    elevation,
    overall_dimensions,
    pictorial,
    svg,
)
from projects.engine.drawing.records import View
from projects.engine.plan.records import Face
from projects.present.drawings import FONT, MOST_PARTS, length_text
from projects.showing import Showing

VIEWS = {
    "front": _("Front"),
    "side": _("Side"),
    "top": _("From above"),
    "pictorial": _("Picture"),
}
"""The pictures to choose from; each has a drawer below."""

WIDTH_MM = 150.0


def draft_drawings(look: Look, showing: Showing, *, view: str) -> tuple[str, ...]:
    """Return the SVGs of a view; none where nothing can be drawn.

    What is not fixed yet is drawn by guess: its part is marked `drawing-guess`.
    """
    if not look.drawn or len(look.drawn) > MOST_PARTS:
        return ()
    drawn = DRAWERS[view if view in DRAWERS else "front"](look, showing)
    return tuple(_marked(picture, look.drawn) for picture in drawn)


def _elevation(view: View) -> Callable[[Look, Showing], tuple[str, ...]]:
    def draw(look: Look, showing: Showing) -> tuple[str, ...]:
        drawing = elevation(
            [drawn.box for drawn in look.drawn],
            view=view,
            dimensions=dimensions(look, showing),
            housed=look.housed,
            width_mm=WIDTH_MM,
        )
        return (svg(drawing, font_family=FONT),)

    return draw


def _pictorial(look: Look, showing: Showing) -> tuple[str, ...]:
    piece = [drawn.box for drawn in look.drawn]
    picture = pictorial(
        piece,
        housed=look.housed,
        overall=overall_dimensions(piece, show=lambda mm: length_text(mm, showing)),
        width_mm=WIDTH_MM,
    )
    return (svg(picture, font_family=FONT),)


DRAWERS: dict[str, Callable[[Look, Showing], tuple[str, ...]]] = {
    "front": _elevation("front"),
    "side": _elevation("side"),
    "top": _elevation("top"),
    "pictorial": _pictorial,
}


def dimensions(look: Look, showing: Showing) -> tuple[Dimension, ...]:
    """Return the overall sizes, where none is a guess, and the fixed distances."""
    boxes = [drawn.box for drawn in look.drawn]
    guessed = {
        axis
        for drawn in look.drawn
        for axis in (*drawn.guessed_sizes, *drawn.guessed_places)
    }
    lines = {
        (line.axis, line.low, line.high): line
        for line in overall_dimensions(boxes, show=lambda mm: length_text(mm, showing))
        if line.axis not in guessed
    }
    by_key = {drawn.box.key: drawn for drawn in look.drawn}
    for distance in look.plan.distances if look.plan else ():
        mm = look.distances.get(distance.key)
        low, high = (_at(by_key, face) for face in (distance.start, distance.end))
        if mm is None or low is None or high is None or low >= high:
            continue
        line = Dimension(
            axis=distance.start.axis,
            low=low,
            high=high,
            text=length_text(mm, showing),
            name=distance.name,
        )
        # one that spans the whole piece is drawn once, as the overall size
        lines.setdefault((line.axis, low, high), line)
    return tuple(lines.values())


def _at(by_key: Mapping[str, Drawn], face: Face) -> Fraction | None:
    drawn = by_key.get(face.part)
    if drawn is None:
        return None
    low, high = getattr(drawn.box, face.axis)
    place: Fraction = high if face.is_high else low
    return place


def _marked(picture: str, drawn: tuple[Drawn, ...]) -> str:
    for one in drawn:
        if one.guessed_sizes or one.guessed_places:
            at = f' data-part="{escape(one.box.key)}"'
            picture = picture.replace(
                f'class="drawing-part"{at}', f'class="drawing-part drawing-guess"{at}'
            )
    return picture


def guessed_names(look: Look) -> tuple[str, ...]:
    """Return the names of the parts that are drawn by guess."""
    return tuple(
        one.box.name for one in look.drawn if one.guessed_sizes or one.guessed_places
    )
