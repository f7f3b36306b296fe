"""Reckon with texts on the page: how wide they are, what they must not touch."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from projects.engine.drawing.records import Area, Rectangle, Segment, Stroke

# A character's width over the text size. Wide enough for DejaVu Sans, which is
# wider than most: its digits take 0.636, its mixed text 0.46 to 0.59 (measured).
CHARACTER_WIDTH = 0.64
WIDE_CHARACTER_WIDTH = 1.0
WIDE_LETTERS = frozenset("mwMW@%—…")

# Characters that may not stand in XML, or that turn the reading direction of
# what follows them: a part name could use them to garble the drawing.
_UNWANTED_KINDS = frozenset({"Cc", "Cs", "Cn"})
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """Keep where the piece lies and the text size, all in [mm of the piece]."""

    piece: Area
    text: float


def clean(words: str) -> str:
    """Return the words on one line, without control characters."""
    kept = (
        " " if unicodedata.category(c) in _UNWANTED_KINDS or c in _TURNING else c
        for c in words
    )
    return " ".join("".join(kept).split())


def text_width(words: str) -> float:
    """Estimate how wide a text is, as a multiple of its size [-]."""
    return sum(
        WIDE_CHARACTER_WIDTH
        if c in WIDE_LETTERS or unicodedata.east_asian_width(c) in "WF"
        else CHARACTER_WIDTH
        for c in words
    )


def shorten(words: str, *, width: float) -> str:
    """Cut the words to a width [-, a multiple of the text size], with "…"."""
    if text_width(words) <= width:
        return words
    while words and text_width(words + "…") > width:
        words = words[:-1]
    return words.rstrip() + "…"


def middle(interval: tuple[float, float]) -> float:
    """Return the middle of an interval."""
    return (interval[0] + interval[1]) / 2


def area_of(rectangle: Rectangle) -> Area:
    """Return a rectangle's area in floats."""
    return Area(
        u1=float(rectangle.u[0]),
        v1=float(rectangle.v[0]),
        u2=float(rectangle.u[1]),
        v2=float(rectangle.v[1]),
    )


def line_of(segment: Segment) -> Area:
    """Return a segment as an area without width, in floats."""
    at, low, high = float(segment.at), float(segment.low), float(segment.high)
    if segment.along == "u":
        return Area(u1=low, v1=at, u2=high, v2=at)
    return Area(u1=at, v1=low, u2=at, v2=high)


def centred(u: float, v: float, *, width: float, height: float) -> Area:
    """Return the area of that width and height around a point."""
    return Area(
        u1=u - width / 2, v1=v - height / 2, u2=u + width / 2, v2=v + height / 2
    )


def inside(stroke: Stroke, area: Area) -> tuple[float, float] | None:
    """Return from where to where, in shares of its length, a line is in an area.

    Source: the parametric clipping of a line to a rectangle (Liang and Barsky,
    "A New Concept and Method for Line Clipping", ACM Transactions on Graphics
    3(1), 1984); from memory.
    """
    start, end = 0.0, 1.0
    for place, step, low, high in (
        (stroke.u1, stroke.u2 - stroke.u1, area.u1, area.u2),
        (stroke.v1, stroke.v2 - stroke.v1, area.v1, area.v2),
    ):
        if step == 0:
            if not low < place < high:
                return None
            continue
        first, last = sorted(((low - place) / step, (high - place) / step))
        start, end = max(start, first), min(end, last)
    return (start, end) if start < end else None


def spare(stroke: Stroke, areas: Iterable[Area]) -> Iterator[Stroke]:
    """Break a line where it would run through an area."""
    gaps = sorted(gap for area in areas if (gap := inside(stroke, area)))
    done = 0.0
    for start, end in [*gaps, (1.0, 1.0)]:
        if start > done:
            yield _part(stroke, done, start)
        done = max(done, end)


def _part(stroke: Stroke, start: float, end: float) -> Stroke:
    du, dv = stroke.u2 - stroke.u1, stroke.v2 - stroke.v1
    return Stroke(
        u1=stroke.u1 + start * du,
        v1=stroke.v1 + start * dv,
        u2=stroke.u1 + end * du,
        v2=stroke.v1 + end * dv,
    )


def spread(
    wishes: list[float], sizes: list[float], *, low: float, high: float
) -> list[float]:
    """Place things in a row near where each wants its middle, none overlapping.

    `wishes` rise. All lie above `low`, and below `high` where there is room.
    """
    places: list[float] = []
    reached = low
    for wish, size in zip(wishes, sizes, strict=True):
        places.append(max(wish, reached + size / 2))
        reached = places[-1] + size / 2
    limit = max(high, low + sum(sizes))
    for number in reversed(range(len(places))):
        places[number] = min(places[number], limit - sizes[number] / 2)
        limit = places[number] - sizes[number] / 2
    return places


def wrap(words: str, *, width: float) -> Iterator[str]:
    """Break words into lines of a width [-, a multiple of the text size].

    A word that is too long for a line of its own is cut.
    """
    line = ""
    for word in words.split(" "):
        longer = f"{line} {word}" if line else word
        if text_width(longer) <= width:
            line = longer
            continue
        if line:
            yield line
        line = shorten(word, width=width)
    yield line
