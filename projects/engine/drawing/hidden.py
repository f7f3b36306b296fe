"""Tell the seen stretches of outlines from the hidden ones, exactly.

A box in a view along an axis is a rectangle at one depth. Cut the page along
every edge position into bands: inside one band nothing begins or ends, so a set
of bands is a whole number with one bit a band, and covering, joining and taking
away are `|`, `&` and `~` on it. No tolerance, no rounding.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.drawing.records import Face, Rectangle, Segment, Sight


@dataclass(frozen=True, kw_only=True)
class _Banded:
    """Keep a face by the numbers of its edge positions and of its depth."""

    key: str
    u: tuple[int, int]
    v: tuple[int, int]
    near: int


def look(faces: Sequence[Face], *, housed: Collection[tuple[str, str]] = ()) -> Sight:
    """Find which stretches of the faces' outlines are seen and which are hidden.

    A stretch is hidden where a nearer face covers it; the border of a face covers
    nothing. Of two equally near faces neither covers the other, unless `housed`
    holds them as (guest key, host key): then the host covers the guest. Stretches
    on one line are joined, none is given twice, and seen goes before hidden.

    Exact. Time grows with the square of the number of faces.
    """
    us = sorted({end for face in faces for end in face.u})
    vs = sorted({end for face in faces for end in face.v})
    banded = _band_all(faces, us, vs)
    over = {
        face.key: [other for other in banded if _covers(other, face, housed)]
        for face in banded
    }
    return Sight(
        segments=tuple(_segments(banded, over, us, vs)),
        seen={face.key: tuple(_seen(face, over[face.key], us, vs)) for face in banded},
    )


def _band_all(
    faces: Sequence[Face], us: list[Fraction], vs: list[Fraction]
) -> list[_Banded]:
    u_number = {place: number for number, place in enumerate(us)}
    v_number = {place: number for number, place in enumerate(vs)}
    depths = sorted({face.near for face in faces})
    depth_number = {depth: number for number, depth in enumerate(depths)}
    return [
        _Banded(
            key=face.key,
            u=(u_number[face.u[0]], u_number[face.u[1]]),
            v=(v_number[face.v[0]], v_number[face.v[1]]),
            near=depth_number[face.near],
        )
        for face in faces
    ]


def _covers(over: _Banded, face: _Banded, housed: Collection[tuple[str, str]]) -> bool:
    """Say whether `over` hides a piece of `face`."""
    if over.near > face.near:
        return False
    if over.near == face.near and (face.key, over.key) not in housed:
        return False
    return (
        over.u[0] < face.u[1]
        and face.u[0] < over.u[1]
        and over.v[0] < face.v[1]
        and face.v[0] < over.v[1]
    )


def _bits(low: int, high: int) -> int:
    return (1 << high) - (1 << low)


def _runs(bits: int) -> Iterator[tuple[int, int]]:
    """Give each unbroken run of set bits as (first, one past the last)."""
    while bits:
        low = (bits & -bits).bit_length() - 1
        shifted = bits >> low
        high = low + (~shifted & (shifted + 1)).bit_length() - 1
        yield low, high
        bits &= ~_bits(low, high)


def _segments(
    faces: list[_Banded],
    over: dict[str, list[_Banded]],
    us: list[Fraction],
    vs: list[Fraction],
) -> Iterator[Segment]:
    # Seen and hidden bands of every line, by the line's number.
    level: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    upright: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    for face in faces:
        for at in face.v:
            covered = _union(o.u for o in over[face.key] if o.v[0] < at < o.v[1])
            _mark(level[at], _bits(*face.u), covered)
        for at in face.u:
            covered = _union(o.v for o in over[face.key] if o.u[0] < at < o.u[1])
            _mark(upright[at], _bits(*face.v), covered)
    yield from _joined("u", level, vs, us)
    yield from _joined("v", upright, us, vs)


def _joined(
    along: Literal["u", "v"],
    lines: dict[int, list[int]],
    places: list[Fraction],
    ends: list[Fraction],
) -> Iterator[Segment]:
    for number, (seen, hidden) in sorted(lines.items()):
        for bits, is_hidden in ((seen, False), (hidden & ~seen, True)):
            for low, high in _runs(bits):
                yield Segment(
                    along=along,
                    at=places[number],
                    low=ends[low],
                    high=ends[high],
                    hidden=is_hidden,
                )


def _union(intervals: Iterator[tuple[int, int]]) -> int:
    bits = 0
    for low, high in intervals:
        bits |= _bits(low, high)
    return bits


def _mark(line: list[int], edge: int, covered: int) -> None:
    line[0] |= edge & ~covered
    line[1] |= edge & covered


def _seen(
    face: _Banded, over: list[_Banded], us: list[Fraction], vs: list[Fraction]
) -> Iterator[Rectangle]:
    """Give what shows of a face as rectangles, bottom to top, left to right."""
    rows = []
    for row in range(*face.v):
        covered = _union(o.u for o in over if o.v[0] <= row < o.v[1])
        rows.append(_bits(*face.u) & ~covered)
    start = 0
    for row in range(1, len(rows) + 1):
        if row < len(rows) and rows[row] == rows[start]:
            continue
        v = (vs[face.v[0] + start], vs[face.v[0] + row])
        for low, high in _runs(rows[start]):
            yield Rectangle(u=(us[low], us[high]), v=v)
        start = row
