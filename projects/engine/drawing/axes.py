"""Lay the overall sizes of a piece along its edges in the isometric view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from projects.engine.drawing.isometric import Solids
from projects.engine.drawing.page import Sheet, centred, clean, text_width
from projects.engine.drawing.records import Axis, Dimension, Point, Stroke, Text
from projects.engine.drawing.sizes import OVERSHOOT, START_GAP, TICK, Sizes

# All in text sizes.
AWAY = 1.6
TEXT_GAP = 0.35


@dataclass(frozen=True, kw_only=True)
class _Edge:
    """Say at which edge of the piece an axis is measured, by directions on the page.

    `at` says for x, y turned round and z whether the edge is at the high end;
    `out` is where extension lines run, `along` the dimension line [degrees].
    """

    number: int
    at: tuple[bool, bool, bool]
    out: float
    along: float


EDGES: dict[Axis, _Edge] = {
    "x": _Edge(number=0, at=(False, True, False), out=-150, along=-30),
    "y": _Edge(number=1, at=(True, False, False), out=-30, along=-150),
    "z": _Edge(number=2, at=(False, True, False), out=150, along=90),
}


def lay_along_axes(
    overall: Sequence[Dimension], *, piece: Solids, sheet: Sheet
) -> Sizes:
    """Lay out one size an axis, each outside the piece, its text level."""
    texts: list[Text] = []
    thin: list[Stroke] = []
    ticks: list[Stroke] = []
    for size in overall:
        edge = EDGES[size.axis]
        du, dv = _direction(edge.out)
        t = sheet.text
        feet = []
        for u, v in _ends(edge, piece):
            foot = (u + AWAY * t * du, v + AWAY * t * dv)
            end = (foot[0] + OVERSHOOT * t * du, foot[1] + OVERSHOOT * t * dv)
            start = (u + START_GAP * t * du, v + START_GAP * t * dv)
            thin.append(_stroke(start, end))
            ticks.append(_tick(foot, edge.along + 45, t))
            feet.append(foot)
        thin.append(_stroke(*feet))
        texts.append(_text(clean(size.text), feet, edge, t))
    return Sizes(texts=tuple(texts), thin=tuple(thin), ticks=tuple(ticks))


def _direction(degrees: float) -> Point:
    return cos(radians(degrees)), sin(radians(degrees))


def _ends(edge: _Edge, piece: Solids) -> list[Point]:
    """Return where the edge begins and ends on the page [mm]."""
    low = [min(box[axis][0] for box in piece.boxes) for axis in range(3)]
    high = [max(box[axis][1] for box in piece.boxes) for axis in range(3)]
    ends = []
    for end in (low, high):
        spot = [high[axis] if edge.at[axis] else low[axis] for axis in range(3)]
        spot[edge.number] = end[edge.number]
        ends.append(piece.on_page((spot[0], spot[1], spot[2])))
    return ends


def _text(words: str, feet: list[Point], edge: _Edge, t: float) -> Text:
    """Set a text beside the middle of its line, on the outer side."""
    out_u, out_v = _direction(edge.out)
    along_u, along_v = _direction(edge.along)
    # Square to the line, turned to the side the extension lines run to.
    square_u, square_v = -along_v, along_u
    if square_u * out_u + square_v * out_v < 0:
        square_u, square_v = -square_u, -square_v
    width = text_width(words) * t
    reach = (width * abs(square_u) + t * abs(square_v)) / 2 + TEXT_GAP * t
    u = (feet[0][0] + feet[1][0]) / 2 + reach * square_u
    v = (feet[0][1] + feet[1][1]) / 2 + reach * square_v
    return Text(words=words, kind="size", area=centred(u, v, width=width, height=t))


def _stroke(start: Point, end: Point) -> Stroke:
    return Stroke(u1=start[0], v1=start[1], u2=end[0], v2=end[1])


def _tick(at: Point, degrees: float, t: float) -> Stroke:
    du, dv = _direction(degrees)
    half = TICK * 2**0.5 * t
    return Stroke(
        u1=at[0] - half * du,
        v1=at[1] - half * dv,
        u2=at[0] + half * du,
        v2=at[1] + half * dv,
    )
