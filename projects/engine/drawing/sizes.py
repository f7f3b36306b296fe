"""Lay out dimension lines: widths below the piece, heights to its left.

Dimension lines are stacked in lanes, short ones next to the piece, so that the
overall size stands outermost. A text stands on its line, heights turned to be
read from the right, as ISO 129-1 has it (from memory). A width too short for its
text has it aside, away from the middle of the piece; a height too short for its
text has it alongside all the same, as no extension line comes from that side.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from projects.engine.drawing.page import Sheet, centred, clean, middle, text_width
from projects.engine.drawing.records import (
    Axis,
    Dimension,
    Face,
    Interval,
    Stroke,
    Text,
)

# All in text sizes.
FIRST_LANE_BELOW = 2.3
FIRST_LANE_LEFT = 1.5
LANE = 1.9
TEXT_MIDDLE = 0.85
OVERSHOOT = 0.35
START_GAP = 0.35
TICK = 0.3
ASIDE = 0.6
TEXT_GAP = 0.5
# Nearer than this, "5" and "3/4" on one line would be read as "5 3/4".
BETWEEN_TEXTS = 2

Span = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """Keep the laid-out dimensions."""

    texts: tuple[Text, ...]
    thin: tuple[Stroke, ...]
    ticks: tuple[Stroke, ...]


@dataclass(frozen=True, kw_only=True)
class _Laid:
    """Keep a dimension's lane, and its ends, line and text along the axis [mm]."""

    words: str
    ends: Span
    line: Span
    text: Span
    starts: Span
    lane: int = 0


def lay_sizes(
    dimensions: Sequence[Dimension],
    *,
    faces: Sequence[Face],
    axes: tuple[Axis, Axis],
    sheet: Sheet,
) -> Sizes:
    """Lay out those dimensions that lie along the picture's two axes."""
    across, up = axes
    piece, t = sheet.piece, sheet.text
    edges = [(face.u, face.v) for face in faces]
    turned = [(face.v, face.u) for face in faces]
    texts: list[Text] = []
    thin: list[Stroke] = []
    ticks: list[Stroke] = []
    for laid in _lay(_shortest_first(dimensions, across), edges, sheet, level=True):
        v = piece.v1 - (FIRST_LANE_BELOW + laid.lane * LANE) * t
        texts.append(_level_text(laid, v + TEXT_MIDDLE * t, t))
        thin.append(Stroke(u1=laid.line[0], v1=v, u2=laid.line[1], v2=v))
        for at, start in zip(laid.ends, laid.starts, strict=True):
            foot = v - OVERSHOOT * t
            thin.append(Stroke(u1=at, v1=start - START_GAP * t, u2=at, v2=foot))
            ticks.append(_tick(at, v, t))
    for laid in _lay(_shortest_first(dimensions, up), turned, sheet, level=False):
        u = piece.u1 - (FIRST_LANE_LEFT + laid.lane * LANE) * t
        texts.append(_turned_text(laid, u - TEXT_MIDDLE * t, t))
        thin.append(Stroke(u1=u, v1=laid.line[0], u2=u, v2=laid.line[1]))
        for at, start in zip(laid.ends, laid.starts, strict=True):
            foot = u - OVERSHOOT * t
            thin.append(Stroke(u1=start - START_GAP * t, v1=at, u2=foot, v2=at))
            ticks.append(_tick(u, at, t))
    return Sizes(texts=tuple(texts), thin=tuple(thin), ticks=tuple(ticks))


def _shortest_first(dimensions: Iterable[Dimension], axis: Axis) -> list[Dimension]:
    """Give the dimensions of an axis, each once."""
    once = {(d.low, d.high, d.text): d for d in dimensions if d.axis == axis}
    return sorted(once.values(), key=lambda d: (d.high - d.low, d.low))


def _lay(
    dimensions: list[Dimension],
    edges: list[tuple[Interval, Interval]],
    sheet: Sheet,
    *,
    level: bool,
) -> Iterator[_Laid]:
    """Give each dimension the innermost lane with room."""
    lanes: list[list[_Laid]] = []
    for number, dimension in enumerate(dimensions):
        low, high = float(dimension.low), float(dimension.high)
        words = clean(dimension.text)
        width = text_width(words) * sheet.text
        later = {float(e) for d in dimensions[number:] for e in (d.low, d.high)}
        if width + sheet.text <= high - low:
            centre = _clear_middle(low, high, width + TEXT_GAP * sheet.text, later)
        elif level:
            centre = _aside(low, high, width, sheet)
        else:
            floor = sheet.piece.v1 - TEXT_GAP * sheet.text
            centre = max(middle((low, high)), floor + width / 2)
        text = (centre - width / 2, centre + width / 2)
        laid = _Laid(
            words=words,
            ends=(low, high),
            line=(min(low, text[0]), max(high, text[1])) if level else (low, high),
            text=text,
            starts=(_start(dimension.low, edges), _start(dimension.high, edges)),
            lane=len(lanes),
        )
        yield _settle(laid, lanes, BETWEEN_TEXTS * sheet.text)


def _clear_middle(low: float, high: float, width: float, ends: set[float]) -> float:
    """Find the place nearest the middle where no extension line runs through."""
    half = width / 2
    centre = (low + high) / 2
    places = [centre]
    places += [place for end in ends for place in (end - half, end + half)]
    for place in sorted(places, key=lambda place: abs(place - centre)):
        fits = low + half <= place <= high - half
        if fits and not any(place - half < end < place + half for end in ends):
            return place
    return centre


def _aside(low: float, high: float, width: float, sheet: Sheet) -> float:
    """Return the middle of a text that stands beside its size, outward."""
    reach = ASIDE * sheet.text + width / 2
    outward_left = low + high < sheet.piece.u1 + sheet.piece.u2
    return low - reach if outward_left else high + reach


def _start(place: Fraction, edges: list[tuple[Interval, Interval]]) -> float:
    """Return where the edge at that place that lies nearest the lanes begins."""
    at_place = [float(across[0]) for along, across in edges if place in along]
    return min(at_place or [float(across[0]) for _, across in edges])


def _settle(laid: _Laid, lanes: list[list[_Laid]], gap: float) -> _Laid:
    """Put the dimension in the first lane where it meets no other; chains touch."""
    for number, lane in enumerate(lanes):
        if not any(
            _meet(laid.line, other.line) or _meet(laid.text, other.text, gap=gap)
            for other in lane
        ):
            settled = replace(laid, lane=number)
            lane.append(settled)
            return settled
    lanes.append([laid])
    return laid


def _meet(one: Span, other: Span, *, gap: float = 0) -> bool:
    return one[0] < other[1] + gap and other[0] < one[1] + gap


def _level_text(laid: _Laid, v: float, text: float) -> Text:
    width = laid.text[1] - laid.text[0]
    area = centred(middle(laid.text), v, width=width, height=text)
    return Text(words=laid.words, kind="size", area=area)


def _turned_text(laid: _Laid, u: float, text: float) -> Text:
    height = laid.text[1] - laid.text[0]
    area = centred(u, middle(laid.text), width=text, height=height)
    return Text(words=laid.words, kind="size", area=area, rotated=True)


def _tick(u: float, v: float, text: float) -> Stroke:
    half = TICK * text
    return Stroke(u1=u - half, v1=v - half, u2=u + half, v2=v + half)
