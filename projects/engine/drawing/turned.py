"""Turn a worked face the way it lies on the page, and see which edges show."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from projects.engine.drawing.hidden import look
from projects.engine.drawing.page import line_of
from projects.engine.drawing.records import (
    Dimension,
    Face,
    Interval,
    Rectangle,
    Sight,
    Stroke,
)
from projects.engine.drawing.worked import Show, SlotMark, WorkedFace

ZERO = Fraction(0)


@dataclass(frozen=True, kw_only=True)
class Turned:
    """Keep a face as it lies on the page, its lower left corner at 0."""

    face: WorkedFace
    show: Show
    upside_down: bool = False

    @cached_property
    def edges(self) -> tuple[Stroke, ...]:
        """The edges of the cuts that show: not of holes, whose place is open."""
        marks = tuple(m for m in self.face.marks if m.kind in ("slot", "tenon"))
        cut = replace(self, face=replace(self.face, marks=marks))
        return tuple(
            Stroke(u1=line.u1, v1=line.v1, u2=line.u2, v2=line.v2)
            for line in (line_of(s) for s in cut.sight.segments if not s.hidden)
        )

    @property
    def v_reversed(self) -> bool:
        """Whether the face's v runs downwards."""
        return self.face.v_reversed is not self.upside_down

    def u(self, span: Interval) -> Interval:
        """Return a span along u as it lies on the page, from the left."""
        if not self.face.u_reversed:
            return span
        return self.face.width_mm - span[1], self.face.width_mm - span[0]

    def v(self, span: Interval) -> Interval:
        """Return a span along v as it lies on the page, from below."""
        if not self.v_reversed:
            return span
        return self.face.height_mm - span[1], self.face.height_mm - span[0]

    def rectangle(self, mark: SlotMark) -> Rectangle:
        """Return a mark's rectangle on the page."""
        return Rectangle(u=self.u(mark.u), v=self.v(mark.v))

    @property
    def ends(self) -> tuple[str, str, str, str]:
        """The names of the ends: left, right, lower and upper on the page."""
        left, right = self.face.u_ends[:: -1 if self.face.u_reversed else 1]
        low, high = self.face.v_ends[:: -1 if self.v_reversed else 1]
        return left, right, low, high

    @cached_property
    def outline(self) -> tuple[Stroke, ...]:
        """The face's outline on the page."""
        corners = [
            (float(self.u((u, u))[0]), float(self.v((v, v))[0]))
            for u, v in self.face.outline
        ]
        return tuple(
            Stroke(u1=start[0], v1=start[1], u2=end[0], v2=end[1])
            for start, end in pairwise([*corners, corners[0]])
        )

    @cached_property
    def sight(self) -> Sight:
        """Return which edges of the cuts show, by number: deeper ones cut through."""
        faces = [
            Face(
                key=str(number),
                name="",
                u=self.u(mark.u),
                v=self.v(mark.v),
                near=-(mark.depth_mm or ZERO),
            )
            for number, mark in enumerate(self.face.marks)
        ]
        keys = [face.key for face in faces]
        # Two cuts of one depth open into each other.
        every = {(one, other) for one in keys for other in keys if one != other}
        return look(faces, housed=every)

    @cached_property
    def dimensions(self) -> tuple[Dimension, ...]:
        """Return the face's sizes, and each cut's sizes and places from an end."""
        face, show = self.face, self.show
        found = [
            _level(self.u((ZERO, face.width_mm)), show(face.width_mm)),
            _upright(self.v((ZERO, face.height_mm)), show(face.height_mm)),
        ]
        for mark in face.marks:
            found += [
                _level(self.u(part), show(mm))
                for part, mm in _sizes(mark, mark.u, face.width_mm, mark.across == "u")
            ]
            found += [
                _upright(self.v(part), show(mm))
                for part, mm in _sizes(mark, mark.v, face.height_mm, mark.across == "v")
            ]
        return tuple(found)


def _sizes(
    mark: SlotMark, span: Interval, whole: Fraction, is_width: bool
) -> list[tuple[Interval, Fraction]]:
    """Return what is to be measured of a cut one way, each with its value [mm].

    Its width and where it starts; the other way only what the plan fixes: where it
    stops short of an end, or all of it where it stops at both.
    """
    low, high = span
    if span == (ZERO, whole):
        return []
    start = [((ZERO, low), low)] if low > 0 else []
    # A tenon or a notch at the far end is measured from there.
    if high == whole and mark.kind != "slot":
        start = []
    if is_width:
        return [(span, mark.width_mm), *start]
    if mark.low == mark.high == "stopped":
        return [(span, high - low), *start]
    found = start if mark.low == "stopped" else []
    if mark.high == "stopped" and high < whole:
        found = [*found, ((high, whole), whole - high)]
    return found


def _level(span: Interval, words: str) -> Dimension:
    return Dimension(axis="x", low=span[0], high=span[1], text=words)


def _upright(span: Interval, words: str) -> Dimension:
    return Dimension(axis="y", low=span[0], high=span[1], text=words)
