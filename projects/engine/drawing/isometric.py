"""See boxes from the front, the right and above at once, hidden lines exactly told.

Isometric axonometry (ISO 5456-3, from memory): the three axes 120° apart on the
page, all drawn to one scale, z upright. Here y is turned round, so that along every
axis the viewer is at the high end and one line of sight is (1, 1, 1).

A line along an axis, at a place s on it, is hidden behind a box where the line of
sight from there, at some t > 0, is inside the box. The two axes across the line
bound t; what is left of t, taken from the box's interval along the line, is the
stretch it hides. All on whole numbers: no tolerance, no rounding.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import lcm, sqrt

from projects.engine.drawing.page import clean
from projects.engine.drawing.records import AXES, Box, Shape, Stroke

Span = tuple[int, int]
Solid = tuple[Span, Span, Span]
Spot = tuple[float, float, float]
# A line: the axis it runs along and its places on the other two.
LineKey = tuple[int, int, int]

ACROSS = sqrt(3) / 2
OTHERS = ((1, 2), (0, 2), (0, 1))


@dataclass(frozen=True, kw_only=True)
class Solids:
    """Keep boxes in whole numbers, `per_mm` [1/mm] to the millimetre, y turned round.

    `tied` holds (hidden, shown) by number: what of the one lies in the other,
    borders and all, is hidden.
    """

    keys: tuple[str, ...]
    boxes: tuple[Solid, ...]
    per_mm: int
    tied: frozenset[tuple[int, int]]

    def on_page(self, spot: Spot) -> tuple[float, float]:
        """Return where a place comes to lie: right and up [mm]."""
        x, y, z = (place / self.per_mm for place in spot)
        return (x - y) * ACROSS, z - (x + y) / 2


@dataclass(frozen=True, kw_only=True)
class Lines:
    """Keep the seen and the hidden lines of a view [mm]."""

    seen: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...]


def solids(boxes: Sequence[Box], *, housed: Collection[tuple[str, str]] = ()) -> Solids:
    """Turn boxes into whole numbers; `housed` holds pairs of keys (hidden, shown)."""
    per_mm = lcm(
        *(end.denominator for b in boxes for axis in AXES for end in getattr(b, axis))
    )

    def whole(low: Fraction, high: Fraction) -> Span:
        return int(low * per_mm), int(high * per_mm)

    number = {box.key: n for n, box in enumerate(boxes)}
    return Solids(
        keys=tuple(number),
        boxes=tuple(
            (whole(*box.x), whole(-box.y[1], -box.y[0]), whole(*box.z)) for box in boxes
        ),
        per_mm=per_mm,
        tied=frozenset(
            (number[hidden], number[shown])
            for hidden, shown in housed
            if hidden in number and shown in number
        ),
    )


def lines(piece: Solids, *, hidden: bool = False) -> Lines:
    """Find the lines that are seen and, if `hidden`, those that are not.

    Edges of the boxes, and the lines where the surfaces of two boxes that overlap
    meet: the edge of a housing. A line is seen where any of the boxes it belongs to
    shows it. Exact. Time grows with the square of the number of boxes.
    """
    seen: dict[LineKey, list[Span]] = defaultdict(list)
    rest: dict[LineKey, list[Span]] = defaultdict(list)
    for line, span, owners in _candidates(piece):
        covered = _joined(_cover(piece, line, span, owners))
        shown = list(_without(span, covered))
        seen[_page_line(line)] += [_along(line, part) for part in shown]
        if hidden:
            rest[_page_line(line)] += [
                _along(line, part) for part in _without(span, shown)
            ]
    joined = {line: _joined(spans) for line, spans in seen.items()}
    left = {
        line: [p for s in _joined(spans) for p in _without(s, joined[line])]
        for line, spans in rest.items()
    }
    return Lines(seen=_strokes(piece, joined), hidden=_strokes(piece, left))


def in_sight(piece: Solids, spot: Spot, *, of: int, behind: Sequence[int]) -> bool:
    """Say whether a spot on box number `of` is seen past the boxes numbered."""
    x, y, z = spot
    for number in behind:
        (x1, x2), (y1, y2), (z1, z2) = piece.boxes[number]
        last = min(x2 - x, y2 - y, z2 - z)
        if last > 0 and last > x1 - x and last > y1 - y and last > z1 - z:
            return False
        within = last >= 0 and x1 <= x and y1 <= y and z1 <= z
        if within and (of, number) in piece.tied:
            return False
    return True


def before(piece: Solids, number: int) -> list[int]:
    """Return the numbers of the boxes that may hide any of a box."""
    own = piece.boxes[number]
    return [
        other
        for other, box in enumerate(piece.boxes)
        if other != number
        and all(box[axis][1] > own[axis][0] for axis in range(3))
        and _reaches(box, own)
    ]


def _reaches(box: Solid, own: Solid) -> bool:
    """Say whether two boxes' outlines on the page may overlap."""
    return all(
        box[a][0] - box[b][1] < own[a][1] - own[b][0]
        and own[a][0] - own[b][1] < box[a][1] - box[b][0]
        for a, b in combinations(range(3), 2)
    )


def _candidates(piece: Solids) -> Iterator[tuple[LineKey, Span, tuple[int, ...]]]:
    """Give each line that may show: itself, from where to where, and its boxes."""
    for number, box in enumerate(piece.boxes):
        for axis, (a, b) in enumerate(OTHERS):
            for p in box[a]:
                for q in box[b]:
                    yield (axis, p, q), box[axis], (number,)
    for (n, one), (m, other) in combinations(enumerate(piece.boxes), 2):
        shared = [
            (max(one[axis][0], other[axis][0]), min(one[axis][1], other[axis][1]))
            for axis in range(3)
        ]
        if all(low < high for low, high in shared):
            yield from _housing(one, other, shared, (n, m))


def _housing(
    one: Solid, other: Solid, shared: list[Span], owners: tuple[int, int]
) -> Iterator[tuple[LineKey, Span, tuple[int, ...]]]:
    """Give the lines where the surface of one box meets that of the other."""
    for axis, (a, b) in enumerate(OTHERS):
        for p in shared[a]:
            for q in shared[b]:
                # p is a border of the one alone and q of the other alone, or so
                # the other way round; else the line is an edge of one of them.
                of_one = (p in one[a], q in one[b])
                of_other = (p in other[a], q in other[b])
                if sum(of_one) == sum(of_other) == 1 and of_one != of_other:
                    yield (axis, p, q), shared[axis], owners


def _cover(
    piece: Solids, line: LineKey, span: Span, owners: tuple[int, ...]
) -> Iterator[Span]:
    """Give the stretches of a line that boxes hide."""
    axis, one, other = line
    a, b = OTHERS[axis]
    for number, box in enumerate(piece.boxes):
        last = min(box[a][1] - one, box[b][1] - other)
        if last < 0:
            continue
        first = max(0, box[a][0] - one, box[b][0] - other)
        if first < last:
            yield box[axis][0] - last, box[axis][1] - first
        if (
            len(owners) == 1
            and (owners[0], number) in piece.tied
            and box[a][0] <= one
            and box[b][0] <= other
        ):
            yield box[axis]


def _joined(spans: Iterator[Span] | Sequence[Span]) -> list[Span]:
    """Return the spans in order, those that meet made one."""
    made: list[Span] = []
    for low, high in sorted(spans):
        if made and low <= made[-1][1]:
            made[-1] = (made[-1][0], max(made[-1][1], high))
        else:
            made.append((low, high))
    return made


def _without(span: Span, covered: Sequence[Span]) -> Iterator[Span]:
    """Give what is left of a span; `covered` is in order and doesn't overlap."""
    low, high = span
    for first, last in covered:
        if last <= low or first >= high:
            continue
        if first > low:
            yield low, first
        low = last
    if low < high:
        yield low, high


def _page_line(line: LineKey) -> LineKey:
    """Return the line on the page that a line in space falls on."""
    axis, one, other = line
    return axis, one - other, 0


def _along(line: LineKey, span: Span) -> Span:
    """Return a span as places along the page's line.

    A place (x, y, z) looks like (x - w, y - w, z - w) for any w: the page's line is
    the one whose second place is 0.
    """
    return span[0] - line[2], span[1] - line[2]


def _strokes(piece: Solids, spans: dict[LineKey, list[Span]]) -> tuple[Stroke, ...]:
    made = []
    for (axis, one, other), parts in sorted(spans.items()):
        a, b = OTHERS[axis]
        for part in parts:
            ends = []
            for place in part:
                spot = [0.0, 0.0, 0.0]
                spot[axis], spot[a], spot[b] = place, one, other
                ends.append(piece.on_page((spot[0], spot[1], spot[2])))
            (u1, v1), (u2, v2) = ends
            made.append(Stroke(u1=u1, v1=v1, u2=u2, v2=v2))
    return tuple(made)


def shapes(boxes: Sequence[Box], piece: Solids) -> tuple[Shape, ...]:
    """Return the outline of each part on the page, mostly far ones first."""
    made = []
    numbers = range(len(boxes))
    for n in sorted(numbers, key=lambda n: sum(sum(ends) for ends in piece.boxes[n])):
        (x1, x2), (y1, y2), (z1, z2) = piece.boxes[n]
        # Round the outline: every corner but the nearest and the farthest.
        corners = (
            (x1, y2, z1), (x2, y2, z1), (x2, y1, z1),
            (x2, y1, z2), (x1, y1, z2), (x1, y2, z2),
        )  # fmt: skip
        box = boxes[n]
        made.append(
            Shape(
                kind="part",
                key=box.key,
                name=clean(box.name) or box.key,
                corners=tuple(piece.on_page(corner) for corner in corners),
                data=tuple((axis, getattr(box, axis)) for axis in AXES),
            )
        )
    return tuple(made)
