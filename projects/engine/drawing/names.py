"""Place part names: inside the part where there is room, else led out.

A name inside stands on a seen piece of the part where no line, seen or hidden,
runs through it. A name without such a place moves above the piece or into a list
to its right, with a leader line that ends in a dot on the part. Hidden parts are
named too as long as the list stays no taller than the piece. Where a name to be
led out is too long for the page, numbers are led out, with a key below.
Heuristic: names never meet each other or an outline; a name may be led out though
a cleverer search would have found room inside.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot

from projects.engine.drawing.leaders import ROW, Led, hidden_spot, lead_out, seen_spot
from projects.engine.drawing.page import Sheet, centred, middle, text_width
from projects.engine.drawing.records import Area, Face, Stroke, Text

# Clear space around a name inside a part, in text sizes.
AROUND = 0.3
# Of the gaps between the lines that cross a part, so many are tried each way.
TRIED = 8


@dataclass(frozen=True, kw_only=True)
class Names:
    """Keep the placed names, and which parts' names are led out (by part key).

    `legend` is what led-out numbers stand for, empty where names are led out.
    """

    texts: tuple[Text, ...]
    leaders: tuple[Stroke, ...]
    dots: tuple[tuple[float, float], ...]
    outside: frozenset[str]
    legend: tuple[str, ...]


def lay_names(
    faces: Sequence[Face],
    *,
    shown: Mapping[str, Sequence[Area]],
    outlines: Mapping[str, Area],
    lines: Sequence[Area],
    sheet: Sheet,
    outside: Collection[str],
    widest: float,
) -> Names:
    """Place the names of the parts.

    By part key, `shown` holds what is seen and `outlines` the whole; `lines` holds
    all that is drawn of the outlines, seen and hidden.
    `outside` holds the keys of parts to lead out whatever room there is. Numbers
    are led out where a name is wider than `widest` [-, a multiple of the text size].
    """
    texts: list[Text] = []
    led: list[Led] = []
    led_out: set[str] = set()
    # The seen parts first: they have the first claim on the list's room.
    for face in sorted(faces, key=lambda face: not shown[face.key]):
        areas = shown[face.key]
        taken = [text.area for text in texts]
        place = None
        if face.key not in outside:
            place = place_inside(face.name, areas, lines, taken, sheet)
        if place:
            texts.append(place)
            continue
        led_out.add(face.key)
        if areas:
            led.append(seen_spot(face.name, areas, lines=lines, sheet=sheet))
        elif (len(led) + 1) * ROW * sheet.text <= sheet.piece.v2 - sheet.piece.v1:
            own = outlines[face.key]
            others = [o for key, o in outlines.items() if key != face.key]
            led += hidden_spot(face.name, own, others=others, sheet=sheet)
    legend: tuple[str, ...] = ()
    if any(text_width(name.words) > widest for name in led):
        legend, led_texts, leaders = numbered(led, sheet)
    else:
        led_texts, leaders = lead_out(led, sheet=sheet)
    return Names(
        texts=(*texts, *led_texts),
        leaders=leaders,
        dots=tuple((name.u, name.v) for name in led),
        outside=frozenset(led_out),
        legend=legend,
    )


def numbered(
    led: Sequence[Led], sheet: Sheet
) -> tuple[tuple[str, ...], tuple[Text, ...], tuple[Stroke, ...]]:
    """Lead out numbers in reading order.

    Return the legend that tells the names, the numbers' texts, and the leaders.
    """
    # Which number a name gets shows only once all are placed: till then each
    # goes by its place in `led`, written as wide as the widest number.
    digits = len(str(len(led)))
    marked = [replace(n, words=f"{place:0{digits}}") for place, n in enumerate(led)]
    placed, leaders = lead_out(marked, sheet=sheet)
    names = [led[int(text.words)].words for text in placed]
    return (
        tuple(f"{number}  {name}" for number, name in enumerate(names, start=1)),
        tuple(replace(text, words=str(n)) for n, text in enumerate(placed, start=1)),
        leaders,
    )


def place_inside(
    words: str,
    areas: Sequence[Area],
    lines: Sequence[Area],
    taken: list[Area],
    sheet: Sheet,
) -> Text | None:
    """Find a place for the name on the part itself, level if possible."""
    long = (text_width(words) + 2 * AROUND) * sheet.text
    short = (1 + 2 * AROUND) * sheet.text
    largest_first = sorted(areas, key=lambda a: (a.u1 - a.u2) * (a.v2 - a.v1))
    for rotated, width, height in ((False, long, short), (True, short, long)):
        for area in largest_first:
            place = _free_place(area, lines, taken, width=width, height=height)
            if place:
                text_area = place.grown(-AROUND * sheet.text)
                return Text(words=words, kind="name", area=text_area, rotated=rotated)
    return None


def _free_place(
    area: Area, lines: Sequence[Area], taken: list[Area], *, width: float, height: float
) -> Area | None:
    """Find room of a size in an area, free of lines and texts, near its centre."""
    if width > area.u2 - area.u1 or height > area.v2 - area.v1:
        return None
    met = [line for line in lines if line.meets(area)] + taken
    for u, v in _gaps(area, met, width=width, height=height):
        place = centred(u, v, width=width, height=height)
        if not any(place.meets(other) for other in met):
            return place
    return None


def _gaps(
    area: Area, met: list[Area], *, width: float, height: float
) -> Iterator[tuple[float, float]]:
    """Give the middles of the gaps between what an area meets, central ones first."""
    uprights = (line.u1 for line in met if line.u1 == line.u2)
    levels = (line.v1 for line in met if line.v1 == line.v2)
    us = _middles([area.u1, *uprights, area.u2], width)
    vs = _middles([area.v1, *levels, area.v2], height)
    u, v = middle((area.u1, area.u2)), middle((area.v1, area.v2))
    yield from sorted(
        ((a, b) for a in us for b in vs), key=lambda p: hypot(p[0] - u, p[1] - v)
    )


def _middles(places: list[float], size: float) -> list[float]:
    """Give the middles of the gaps between any two places that hold `size`."""
    places = sorted(set(places))
    centre = middle((places[0], places[-1]))
    found = {
        middle((low, high))
        for number, low in enumerate(places)
        for high in places[number + 1 :]
        if high - low >= size
    }
    return sorted(found, key=lambda place: abs(place - centre))[:TRIED]
