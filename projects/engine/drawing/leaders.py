"""Lead names out of the piece: a row above it, a list to its right."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import inf

from projects.engine.drawing.page import Sheet, centred, middle, spread, text_width
from projects.engine.drawing.records import Area, Point, Stroke, Text

# All in text sizes.
ROW = 1.4
COLUMN_GAP = 2.6
LANDING = 0.6
LEADER_GAP = 0.3
TOP_GAP = 2.2
SLANT = 1.5
NAME_GAP = 1.0
# Where on a part a leader ends: at most this far inside the part's border.
NEAR_BORDER = 0.8
# How often crossing leaders trade names before the rest is left crossing.
TRADES = 5
# Lines nearer to each other than this are one to the eye [mm].
TOUCH_MM = 0.01


@dataclass(frozen=True, kw_only=True)
class Led:
    """Keep a name to be led out, and the spot its leader starts from [mm].

    `level` says that the spot lies on a level line.
    """

    words: str
    u: float
    v: float
    level: bool = False


def seen_spot(
    words: str, areas: Sequence[Area], *, lines: Sequence[Area], sheet: Sheet
) -> Led:
    """Choose where on the seen areas of a part its leader starts: nearest a way out."""
    margin = NEAR_BORDER * sheet.text
    thickest = max(_thickness(area) for area in areas)
    spots = []
    for area in areas:
        # A sliver left between two nearer parts would not be told from a line.
        if _thickness(area) < min(thickest, margin):
            continue
        clear = _clear_corner(area, lines, 2 * margin)
        u, v = middle((clear.u1, clear.u2)), middle((clear.v1, clear.v2))
        right = clear.u2 - min((clear.u2 - clear.u1) / 2, margin)
        top = clear.v2 - min((clear.v2 - clear.v1) / 2, margin)
        spots.append(Led(words=words, u=right, v=v))
        spots.append(Led(words=words, u=u, v=top))
    return min(spots, key=lambda led: way_out(led, sheet))


def _clear_corner(area: Area, lines: Sequence[Area], size: float) -> Area:
    """Return the area between lines, of a size if there is one, at the top right."""
    met = [line for line in lines if line.meets(area)]
    uprights = [line.u1 for line in met if line.u1 == line.u2]
    levels = [line.v1 for line in met if line.v1 == line.v2]
    u1, u2 = _last_gap([area.u1, *uprights, area.u2], size)
    v1, v2 = _last_gap([area.v1, *levels, area.v2], size)
    return Area(u1=u1, v1=v1, u2=u2, v2=v2)


def _last_gap(places: list[float], size: float) -> tuple[float, float]:
    gaps = list(pairwise(sorted(places)))
    widest = max(high - low for low, high in gaps)
    return [gap for gap in gaps if gap[1] - gap[0] >= min(widest, size)][-1]


def _thickness(area: Area) -> float:
    return min(area.u2 - area.u1, area.v2 - area.v1)


def way_out(led: Led, sheet: Sheet) -> float:
    """Return how far the spot is from the top or the right, the nearer one [mm]."""
    return min(sheet.piece.v2 - led.v, sheet.piece.u2 - led.u)


def _leaves_above(led: Led, sheet: Sheet) -> bool:
    return sheet.piece.v2 - led.v < sheet.piece.u2 - led.u


def hidden_spot(
    words: str, own: Area, *, others: Sequence[Area], sheet: Sheet
) -> list[Led]:
    """Choose a spot on a hidden part's outline that no other part shares, if any."""
    clear: list[Led] = []
    free: list[Led] = []
    for led in _on_outline(words, own):
        gap = min((_to_border(led.u, led.v, other) for other in others), default=inf)
        if gap > LEADER_GAP * sheet.text:
            clear.append(led)
        elif gap > TOUCH_MM:
            free.append(led)
    # A spot right beside another part's line is taken only if there is no other.
    return sorted(clear or free, key=lambda led: way_out(led, sheet))[:1]


def _on_outline(words: str, area: Area) -> Iterator[Led]:
    """Give spots on an outline."""
    for share in (0.2, 0.5, 0.8):
        u = area.u1 + share * (area.u2 - area.u1)
        v = area.v1 + share * (area.v2 - area.v1)
        for level in (area.v1, area.v2):
            yield Led(words=words, u=u, v=level, level=True)
        for upright in (area.u1, area.u2):
            yield Led(words=words, u=upright, v=v)


def _to_border(u: float, v: float, area: Area) -> float:
    """Return how far a point is from an area's border, the larger way of the two."""
    return abs(max(area.u1 - u, u - area.u2, area.v1 - v, v - area.v2))


def lead_out(
    led: Sequence[Led], *, sheet: Sheet, all_above: bool = False
) -> tuple[tuple[Text, ...], tuple[Stroke, ...]]:
    """Set the names in the row above or the list to the right, with their leaders.

    With `all_above` none goes to the list, and the row may become too long.
    The texts come in reading order: the row, then the list from the top.
    """
    up = [all_above or _leaves_above(name, sheet) for name in led]
    above = [name for name, goes_up in zip(led, up, strict=True) if goes_up]
    right = [name for name, goes_up in zip(led, up, strict=True) if not goes_up]
    above.sort(key=lambda n: n.u)
    room = sheet.piece.u2 - sheet.piece.u1
    while not all_above and sum(_row_width(name, sheet) for name in above) > room:
        right.append(above.pop())
    right.sort(key=lambda n: (n.v, -n.u))
    t = sheet.text
    texts: list[Text] = []
    leaders: list[Stroke] = []
    for name, text in _untangled(above, _row, sheet):
        texts.append(text)
        end, foot = _foot(text, sheet)
        leaders.append(Stroke(u1=name.u, v1=name.v, u2=end, v2=foot))
    for name, text in reversed(_untangled(right, _column, sheet)):
        texts.append(text)
        elbow, v = _elbow(text, sheet)
        leaders.append(Stroke(u1=name.u, v1=name.v, u2=elbow, v2=v))
        leaders.append(Stroke(u1=elbow, v1=v, u2=elbow + LANDING * t, v2=v))
    return tuple(texts), tuple(leaders)


def _row_width(led: Led, sheet: Sheet) -> float:
    return (text_width(led.words) + NAME_GAP) * sheet.text


def _foot(text: Text, sheet: Sheet) -> tuple[float, float]:
    """Return where a leader meets a name above."""
    area = text.area
    return middle((area.u1, area.u2)), area.v1 - LEADER_GAP * sheet.text


def _elbow(text: Text, sheet: Sheet) -> tuple[float, float]:
    """Return where a leader turns level towards a name in the list."""
    area = text.area
    return area.u1 - (LEADER_GAP + LANDING) * sheet.text, middle((area.v1, area.v2))


def _row(above: list[Led], sheet: Sheet) -> list[Text]:
    """Set names above the piece, a little aside so that leaders slant."""
    t = sheet.text
    centre = middle((sheet.piece.u1, sheet.piece.u2))
    places = spread(
        [name.u + (SLANT * t if name.u < centre else -SLANT * t) for name in above],
        [_row_width(name, sheet) for name in above],
        low=sheet.piece.u1,
        high=sheet.piece.u2,
    )
    v = sheet.piece.v2 + TOP_GAP * t
    return [
        Text(
            words=name.words,
            kind="name",
            area=centred(u, v, width=text_width(name.words) * t, height=t),
        )
        for name, u in zip(above, places, strict=True)
    ]


def _column(right: list[Led], sheet: Sheet) -> list[Text]:
    """Set names to the right of the piece, from the bottom up."""
    t = sheet.text
    # A leader from a level line must not run along it.
    places = spread(
        [name.v + (ROW * t if name.level else 0) for name in right],
        [ROW * t] * len(right),
        low=sheet.piece.v1,
        high=sheet.piece.v2,
    )
    start = sheet.piece.u2 + COLUMN_GAP * t
    return [
        Text(
            words=name.words,
            kind="name",
            anchor="start",
            area=centred(start + width / 2, v, width=width, height=t),
        )
        for name, v in zip(right, places, strict=True)
        for width in (text_width(name.words) * t,)
    ]


def _untangled(
    led: list[Led], place: Callable[[list[Led], Sheet], list[Text]], sheet: Sheet
) -> list[tuple[Led, Text]]:
    """Place names in an order in which few leaders cross, mostly none.

    Two that cross trade places. As places shift with the order, that need not come
    to rest, so it is tried only so many times.
    """
    end_of = _foot if place is _row else _elbow
    for _ in range(TRADES):
        ends = [end_of(text, sheet) for text in place(led, sheet)]
        traded = False
        for low, high in combinations(range(len(led)), 2):
            one, other = led[low], led[high]
            if _cross((one.u, one.v), ends[low], (other.u, other.v), ends[high]):
                led[low], led[high] = other, one
                traded = True
        if not traded:
            break
    return list(zip(led, place(led, sheet), strict=True))


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Say whether the lines a to b and c to d cross."""
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return above 0 if c lies to the left on the way from a to b, below 0 if right."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
