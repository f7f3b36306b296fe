"""Hold what is cut on the faces of a part, ready to be drawn.

Places on a face are given along two of its edges: u from one end and v from
another, each from the end that stands first in `u_ends` and `v_ends`. How the
face is turned on the page is a matter of its own (`u_reversed`, `v_reversed`):
never mirrored, always as one sees it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.drawing.records import DrawingError, Interval

Corner = tuple[Fraction, Fraction]
Reach = Literal["open", "stopped", "guest"]
Show = Callable[[Fraction], str]


@dataclass(frozen=True, kw_only=True)
class Measured:
    """Keep one more size of a cut [mm], with its name."""

    name: str
    mm: Fraction


@dataclass(frozen=True, kw_only=True)
class SlotMark:
    """Keep one cut on a face [mm]: which rectangle it takes, and how deep it goes.

    `kind` "slot" is cut into the face; "tenon" is what stays of the part's end, and
    "notch" a corner cut off it; "holes" are drilled somewhere in the rectangle, the
    plan doesn't say where. `width_mm` is the width as it is cut, along `across`:
    where the cut runs out at the part's end the rectangle is narrower.
    `low` and `high` say how the cut ends the other way: "open" at the part's edge,
    "stopped" where the rectangle ends, or there at least ("guest"), where the part
    in it ends and the plan doesn't say whether the cut runs on.
    """

    joint: str
    kind: Literal["slot", "tenon", "notch", "holes"]
    title: str
    other: str
    u: Interval
    v: Interval
    across: Literal["u", "v"]
    width_mm: Fraction
    depth_mm: Fraction | None = None
    through: bool = False
    low: Reach = "open"
    high: Reach = "open"
    measures: tuple[Measured, ...] = ()

    def __post_init__(self) -> None:
        for low, high in (self.u, self.v):
            if low >= high:
                raise DrawingError(
                    "{title} for {other}: must end after it starts"
                    " (starts at {low} mm, ends at {high} mm)",
                    title=self.title,
                    other=self.other,
                    low=low,
                    high=high,
                )


@dataclass(frozen=True, kw_only=True)
class WorkedFace:
    """Keep one face of a part as one sees it, with what is cut on it [mm].

    `outline` runs round it from corner to corner. `either` names the opposite face
    where the plan doesn't say which of the two is cut; `free` says that the same
    is seen from there.
    """

    face: str
    u_ends: tuple[str, str]
    v_ends: tuple[str, str]
    width_mm: Fraction
    height_mm: Fraction
    outline: tuple[Corner, ...]
    marks: tuple[SlotMark, ...] = ()
    either: str = ""
    free: bool = False
    u_reversed: bool = False
    v_reversed: bool = False


@dataclass(frozen=True, kw_only=True)
class WorkNote:
    """Keep a cut that no rectangle can show, with its sizes and why that is."""

    title: str
    other: str
    measures: tuple[Measured, ...]
    why: str


@dataclass(frozen=True, kw_only=True)
class PartWork:
    """Keep one part, its finished sizes [mm], its worked faces and what else is cut."""

    key: str
    name: str
    count: int
    stock: str
    length_mm: Fraction
    width_mm: Fraction
    thickness_mm: Fraction
    faces: tuple[WorkedFace, ...]
    notes: tuple[WorkNote, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PartSheet:
    """Keep what is drawn together: one part, or two that mirror each other.

    Of a pair the second's faces are those of the first mirrored, in the same order,
    each with its marks in the same order, turned so that they lie as in a mirror
    that stands level between the two.
    """

    parts: tuple[PartWork, ...]

    @property
    def rows(self) -> tuple[tuple[WorkedFace, ...], ...]:
        """The faces that are drawn together."""
        return tuple(zip(*(part.faces for part in self.parts), strict=True))


def outline(
    width_mm: Fraction,
    height_mm: Fraction,
    notches: dict[tuple[bool, bool], list[Corner]],
) -> tuple[Corner, ...]:
    """Return the corners of a rectangle [mm] with notches cut from its corners.

    `notches` holds sizes along u and v, by whether the corner is at the high end of
    u and of v. Where several are cut from one corner, all of it goes.
    """
    corners: list[Corner] = []
    # Round the rectangle, entering each corner along u or along v in turn.
    for u_high, v_high in ((False, False), (True, False), (True, True), (False, True)):
        u, v = (width_mm if u_high else Fraction(0)), height_mm * v_high
        into_u, into_v = (-1 if u_high else 1), (-1 if v_high else 1)
        steps = [
            (u + into_u * du, v + into_v * dv)
            for du, dv in _staircase(notches.get((u_high, v_high), []))
        ]
        corners += steps if u_high == v_high else reversed(steps)
    return tuple(corners)


def _staircase(notches: list[Corner]) -> list[Corner]:
    """Return the corners of the steps, from the edge where u is 0 to where v is 0."""
    steps: list[Corner] = []
    reached = Fraction(0)
    # The deepest along v first: it is met first on the edge where u is 0.
    for du, dv in sorted(notches, key=lambda notch: (-notch[1], -notch[0])):
        if du <= reached:
            continue
        steps += [(reached, dv), (du, dv)]
        reached = du
    return [*steps, (reached, Fraction(0))]
