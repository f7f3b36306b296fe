"""A part as it lies at a machine, and the lines that show it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from projects.engine.drawing.page import area_of
from projects.engine.drawing.records import (
    Area,
    Dimension,
    DrawingError,
    Interval,
    Rectangle,
    Shape,
    Stroke,
)

# A part this many times as long as wide, the way it is fed, is turned.
TURN_AT = Fraction(3, 2)


@dataclass(frozen=True, kw_only=True)
class LaidPart:
    """Keep a part as it lies [mm]: from its left and from where it is fed from.

    The stop or fence stands at its right where it `has_rest`; `rest` names what is
    there, `lead` what is at the top. `cut` is the rectangle that is cut away, `hidden`
    where that is under the part. With `open_top` or `open_left` the part goes on
    there (`open_bottom` once turned); with `standing` it is seen from its end and is
    not turned.
    """

    key: str
    title: str
    across_mm: Fraction
    along_mm: Fraction
    rest: str = ""
    has_rest: bool = True
    lead: str = ""
    cut: Rectangle | None = None
    hidden: bool = False
    open_top: bool = False
    open_left: bool = False
    standing: bool = False
    sizes: tuple[Dimension, ...] = ()
    open_bottom: bool = False

    def __post_init__(self) -> None:
        if self.across_mm <= 0 or self.along_mm <= 0:
            raise DrawingError("{key}: a part must be above 0 mm", key=self.key)

    @property
    def is_turned(self) -> bool:
        """Whether it is drawn fed to the left."""
        return not self.standing and self.along_mm > TURN_AT * self.across_mm


def turned(part: LaidPart) -> LaidPart:
    """Return a part with what was on its right on top, and its top on the left."""

    def level(span: Interval) -> Interval:
        return part.along_mm - span[1], part.along_mm - span[0]

    cut = part.cut and Rectangle(u=level(part.cut.v), v=part.cut.u)
    sizes = []
    for size in part.sizes:
        low, high = size.low, size.high
        if size.axis == "x":
            sizes.append(replace(size, axis="y"))
        else:
            low, high = level((low, high))
            sizes.append(replace(size, axis="x", low=low, high=high))
    return replace(
        part,
        across_mm=part.along_mm,
        along_mm=part.across_mm,
        cut=cut,
        sizes=tuple(sizes),
        open_left=part.open_top,
        open_bottom=part.open_left,
        open_top=False,
    )


def shapes(laid: LaidPart, rectangles: Sequence[Rectangle]) -> Iterator[Shape]:
    """Give a part's rectangles as areas: its own, then that of its cut."""
    for number, rectangle in enumerate(rectangles):
        area = area_of(rectangle)
        yield Shape(
            kind="slot" if number else "part",
            key=laid.key,
            name=laid.title,
            corners=(
                (area.u1, area.v1),
                (area.u2, area.v1),
                (area.u2, area.v2),
                (area.u1, area.v2),
            ),
            data=(("u", rectangle.u), ("v", rectangle.v)),
        )


def sides(area: Area) -> tuple[Stroke, Stroke, Stroke, Stroke]:
    """Return the lower, left, right and upper side of an area."""
    return (
        Stroke(u1=area.u1, v1=area.v1, u2=area.u2, v2=area.v1),
        Stroke(u1=area.u1, v1=area.v1, u2=area.u1, v2=area.v2),
        Stroke(u1=area.u2, v1=area.v1, u2=area.u2, v2=area.v2),
        Stroke(u1=area.u1, v1=area.v2, u2=area.u2, v2=area.v2),
    )


def outline(laid: LaidPart, area: Area) -> Iterator[Stroke]:
    """Give the sides of a part but for those past which it goes on."""
    goes_on = (laid.open_bottom, laid.open_left, False, laid.open_top)
    for side, is_open in zip(sides(area), goes_on, strict=True):
        if not is_open:
            yield side


def cut_edges(laid: LaidPart, cut: Rectangle) -> Iterator[Stroke]:
    """Give the edges of the cut that don't lie on the part's own."""
    (u1, u2), (v1, v2) = cut.u, cut.v
    for u in (u1, u2):
        if 0 < u < laid.across_mm:
            yield Stroke(u1=float(u), v1=float(v1), u2=float(u), v2=float(v2))
    for v in (v1, v2):
        if 0 < v < laid.along_mm:
            yield Stroke(u1=float(u1), v1=float(v), u2=float(u2), v2=float(v))
