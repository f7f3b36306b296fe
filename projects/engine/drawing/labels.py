"""Place part names in the isometric view: on the part, else led out.

A name stands on its part where its middle is seen and no seen line runs through
it: the lines bound what is seen of every part, so all of it then stands on that one
surface. Heuristic: a few dozen spots of each part are tried.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf, sqrt

from projects.engine.drawing.isometric import (
    OTHERS,
    Solid,
    Solids,
    Spot,
    before,
    in_sight,
)
from projects.engine.drawing.leaders import TOUCH_MM, Led, lead_out, way_out
from projects.engine.drawing.names import numbered
from projects.engine.drawing.page import Sheet, centred, inside, text_width
from projects.engine.drawing.records import Area, Point, Stroke, Text
from projects.engine.drawing.settle import areas_of

# Clear space around a name on a part, in text sizes.
AROUND = 0.3
# A leader ends at least this far from a line where there is room, in text sizes.
CLEAR = 0.8
# Spots tried along each edge of a face; more where few of the first are seen.
COARSE = 5
FEW = 5
FINE = 11
# Of the spots that are seen so many are kept.
KEPT = 24


@dataclass(frozen=True, kw_only=True)
class Spots:
    """Keep where a part is seen, best first, and the lines near it with their areas."""

    places: tuple[Point, ...]
    near: tuple[tuple[Stroke, Area], ...]

    @cached_property
    def gaps(self) -> tuple[float, ...]:
        """How far each of the places is from the nearest line."""
        lines = [line for line, _ in self.near]
        return tuple(_gap(place, lines) for place in self.places)


@dataclass(frozen=True, kw_only=True)
class Labels:
    """Keep the placed names; see `names.Names`."""

    texts: tuple[Text, ...]
    leaders: tuple[Stroke, ...]
    dots: tuple[Point, ...]
    outside: frozenset[str]
    legend: tuple[str, ...]


def find_spots(piece: Solids, seen: Sequence[Stroke]) -> tuple[Spots, ...]:
    """Find for each part where it is seen, and which lines run near it."""
    # A line along the page has no height, and no area meets it unless it is grown.
    with_areas = [
        (line, area.grown(TOUCH_MM))
        for line, area in zip(seen, areas_of(seen), strict=True)
    ]
    found = []
    for number, box in enumerate(piece.boxes):
        behind = before(piece, number)
        places = _places(piece, number, behind, COARSE)
        if len(places) < FEW:
            more = _places(piece, number, behind, FINE)
            places += more[:: max(1, len(more) // KEPT)]
        own = _corner_area(piece, box)
        near = [pair for pair in with_areas if pair[1].meets(own)]
        found.append(Spots(places=tuple(places[:KEPT]), near=tuple(near)))
    return tuple(found)


def _places(
    piece: Solids, number: int, behind: Sequence[int], tried: int
) -> list[Point]:
    """Return the seen ones of the spots of a part's three near faces."""
    return [
        piece.on_page(spot)
        for spot in _grid(piece.boxes[number], tried)
        if in_sight(piece, spot, of=number, behind=behind)
    ]


def _grid(box: Solid, tried: int) -> Iterator[Spot]:
    """Give spots on the near faces, the largest face first, from its middle out."""

    def size(axis: int) -> int:
        a, b = OTHERS[axis]
        return (box[a][0] - box[a][1]) * (box[b][1] - box[b][0])

    shares = [(n + 1) / (tried + 1) for n in range(tried)]
    pairs = sorted(
        ((p, q) for p in shares for q in shares),
        key=lambda pair: abs(pair[0] - 0.5) + abs(pair[1] - 0.5),
    )
    for axis in sorted(range(3), key=size):
        a, b = OTHERS[axis]
        for p, q in pairs:
            spot = [0.0, 0.0, 0.0]
            spot[axis] = box[axis][1]
            spot[a] = box[a][0] + p * (box[a][1] - box[a][0])
            spot[b] = box[b][0] + q * (box[b][1] - box[b][0])
            yield spot[0], spot[1], spot[2]


def _corner_area(piece: Solids, box: Solid) -> Area:
    """Return the area a box takes on the page."""
    corners = [piece.on_page((x, y, z)) for x in box[0] for y in box[1] for z in box[2]]
    return Area(
        u1=min(u for u, _ in corners),
        v1=min(v for _, v in corners),
        u2=max(u for u, _ in corners),
        v2=max(v for _, v in corners),
    )


def lay_labels(
    names: Sequence[str],
    *,
    keys: Sequence[str],
    spots: Sequence[Spots],
    sheet: Sheet,
    outside: Collection[str],
    widest: float,
) -> Labels:
    """Place the names of the seen parts, in the parts' order.

    `outside` holds the keys of parts to lead out whatever room there is. Numbers
    are led out where a name is wider than `widest` [-, a multiple of the text size].
    """
    texts: list[Text] = []
    led: list[Led] = []
    led_out: set[str] = set()
    for name, key, where in zip(names, keys, spots, strict=True):
        if not where.places:
            continue
        taken = [text.area for text in texts]
        area = None if key in outside else _room(name, where, taken, sheet)
        if area:
            texts.append(Text(words=name, kind="name", area=area))
        else:
            led_out.add(key)
            led.append(_spot(name, where, sheet))
    legend: tuple[str, ...] = ()
    if any(text_width(name.words) > widest for name in led):
        legend, led_texts, leaders = numbered(led, sheet)
    else:
        led_texts, leaders = lead_out(led, sheet=sheet)
    return Labels(
        texts=(*texts, *led_texts),
        leaders=leaders,
        dots=tuple((name.u, name.v) for name in led),
        outside=frozenset(led_out),
        legend=legend,
    )


def _room(words: str, where: Spots, taken: Sequence[Area], sheet: Sheet) -> Area | None:
    """Find a spot where the name meets no line and no other name."""
    t = sheet.text
    width, height = (text_width(words) + 2 * AROUND) * t, (1 + 2 * AROUND) * t
    for u, v in where.places:
        area = centred(u, v, width=width, height=height)
        if not any(area.meets(other) for other in taken) and not any(
            near.meets(area) and inside(line, area) for line, near in where.near
        ):
            return area.grown(-AROUND * t)
    return None


def _spot(words: str, where: Spots, sheet: Sheet) -> Led:
    """Choose where a part's leader ends: well clear of lines, nearest a way out."""
    clear = CLEAR * sheet.text
    rooms = [min(gap, clear) for gap in where.gaps]
    clearest = [
        Led(words=words, u=u, v=v)
        for (u, v), room in zip(where.places, rooms, strict=True)
        if room >= 0.9 * max(rooms)
    ]
    return min(clearest, key=lambda spot: way_out(spot, sheet))


def _gap(place: Point, lines: Sequence[Stroke]) -> float:
    """Return how far a place is from the nearest of some lines."""
    u, v = place
    nearest = inf
    for line in lines:
        du, dv = line.u2 - line.u1, line.v2 - line.v1
        from_u, from_v = u - line.u1, v - line.v1
        along = (from_u * du + from_v * dv) / (du * du + dv * dv)
        along = 0 if along < 0 else 1 if along > 1 else along
        off_u, off_v = from_u - along * du, from_v - along * dv
        square = off_u * off_u + off_v * off_v
        if square < nearest:
            nearest = square
    return sqrt(nearest)
