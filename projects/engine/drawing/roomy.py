"""Make room in a drawing of a part as it lies: what is small is drawn larger.

A groove of 1/4 in on a board 30 in long would be a smear. So what is long is drawn
shorter and what is small wider, in the same order; the numbers stay.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from projects.engine.drawing.laid_part import LaidPart
from projects.engine.drawing.records import Interval, Rectangle

MOST_RATIO = 2
"""How many times as long as wide a part is drawn at most [-]."""
LEAST_SHARE = Fraction(1, 6)
"""How large the smallest distance is drawn, as a share of the longer side [-]."""
LEAST_SIDE_MM = 60
"""How long the longer side of a part is drawn at least, where there is room [mm]."""


def roomy(part: LaidPart) -> LaidPart:
    """Return a part with room for each of its distances; not to scale any more."""
    across = _Axis([0, part.across_mm, *_ends(part, "x")])
    along = _Axis([0, part.along_mm, *_ends(part, "y")])
    along.shorten(across.length * MOST_RATIO)
    across.shorten(along.length * MOST_RATIO)
    side_mm = max(across.length, along.length)
    for axis in (across, along):
        axis.widen(side_mm * LEAST_SHARE)
        axis.scale(max(LEAST_SIDE_MM / side_mm, Fraction(1)))
    if part.is_turned:
        # so it stays
        along.scale(max(across.length * MOST_RATIO / along.length, Fraction(1)))
    axis_of = {"x": across, "y": along}
    cut = part.cut and Rectangle(u=across.span(part.cut.u), v=along.span(part.cut.v))
    sizes = []
    for size in part.sizes:
        low, high = axis_of[size.axis].span((size.low, size.high))
        sizes.append(replace(size, low=low, high=high))
    return replace(
        part,
        across_mm=across.length,
        along_mm=along.length,
        cut=cut,
        sizes=tuple(sizes),
    )


def _ends(part: LaidPart, axis: str) -> list[Fraction]:
    """Return where the cut and the sizes of an axis begin and end."""
    spans = [(size.low, size.high) for size in part.sizes if size.axis == axis]
    if part.cut:
        spans.append(part.cut.u if axis == "x" else part.cut.v)
    return [end for span in spans for end in span]


class _Axis:
    """Hold the places on one axis, and how far apart each two are drawn [mm]."""

    def __init__(self, places: Iterable[Fraction | int]) -> None:
        self.places = sorted({Fraction(place) for place in places})
        self.gaps = [high - low for low, high in pairwise(self.places)]

    @property
    def length(self) -> Fraction:
        return sum(self.gaps, Fraction(0))

    def shorten(self, most_mm: Fraction) -> None:
        """Draw the longest gaps shorter, all alike, to `most_mm` [mm] in all."""
        rest_mm = most_mm
        for left, gap in zip(
            range(len(self.gaps), 0, -1), sorted(self.gaps), strict=True
        ):
            if gap * left >= rest_mm:
                cap_mm = rest_mm / left
                self.gaps = [min(one, cap_mm) for one in self.gaps]
                return
            rest_mm -= gap

    def widen(self, least_mm: Fraction) -> None:
        """Draw no gap narrower than `least_mm` [mm]."""
        self.gaps = [max(gap, least_mm) for gap in self.gaps]

    def scale(self, times: Fraction) -> None:
        """Draw every gap `times` [-] as wide."""
        self.gaps = [gap * times for gap in self.gaps]

    def span(self, of: Interval) -> Interval:
        """Return where a span is drawn."""
        low, high = (self._at(place) for place in of)
        return low, high

    def _at(self, place: Fraction) -> Fraction:
        number = self.places.index(place) - self.places.index(Fraction(0))
        return sum(self.gaps[:number], Fraction(0))
