"""Hold what a drawing is made from and what it consists of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.errors import EngineError

Axis = Literal["x", "y", "z"]
View = Literal["front", "side", "top"]
Interval = tuple[Fraction, Fraction]
Point = tuple[float, float]

AXES: tuple[Axis, ...] = ("x", "y", "z")


TextKind = Literal["name", "size", "caption", "legend", "end"]


class DrawingError(EngineError):
    """Tell that something can't be drawn as given."""


@dataclass(frozen=True, kw_only=True)
class Box:
    """Keep one part's place in the assembled piece, each interval in [mm].

    x runs left to right, y front to back, z bottom to top.
    """

    key: str
    name: str
    x: Interval
    y: Interval
    z: Interval

    def __post_init__(self) -> None:
        for axis in AXES:
            low, high = getattr(self, axis)
            if low >= high:
                raise DrawingError(
                    "{key}: {axis} must end after it starts"
                    " (starts at {low} mm, ends at {high} mm)",
                    key=self.key,
                    axis=axis,
                    low=low,
                    high=high,
                )


@dataclass(frozen=True, kw_only=True)
class Dimension:
    """Keep one size to be shown: from where to where [mm], and its words.

    `text` is drawn as it stands ("35 1/4 full"); `name` ("Shelf height") is used
    where the drawing is described in words.
    """

    axis: Axis
    low: Fraction
    high: Fraction
    text: str
    name: str = ""

    def __post_init__(self) -> None:
        if self.low >= self.high:
            raise DrawingError(
                "dimension {text}: must end after it starts"
                " (starts at {low} mm, ends at {high} mm)",
                text=self.text,
                low=self.low,
                high=self.high,
            )


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """Keep an area of a view [mm]: u to the right, v upwards."""

    u: Interval
    v: Interval


@dataclass(frozen=True, kw_only=True)
class Face:
    """Keep a box as a view shows it [mm]; `near` is smaller nearer the viewer."""

    key: str
    name: str
    u: Interval
    v: Interval
    near: Fraction


@dataclass(frozen=True, kw_only=True)
class Segment:
    """Keep a stretch of outline along u or v, at a place on the other axis [mm]."""

    along: Literal["u", "v"]
    at: Fraction
    low: Fraction
    high: Fraction
    hidden: bool


@dataclass(frozen=True, kw_only=True)
class Sight:
    """Keep what is seen: the outlines, and of each face (by key) what shows."""

    segments: tuple[Segment, ...]
    seen: Mapping[str, tuple[Rectangle, ...]]


@dataclass(frozen=True, kw_only=True)
class Stroke:
    """Keep one thin line of the page, end to end [mm of the piece]."""

    u1: float
    v1: float
    u2: float
    v2: float


@dataclass(frozen=True, kw_only=True)
class Area:
    """Keep an area of the page [mm of the piece]."""

    u1: float
    v1: float
    u2: float
    v2: float

    def meets(self, other: Area) -> bool:
        """Say whether the two areas share more than a border."""
        return (
            self.u1 < other.u2
            and other.u1 < self.u2
            and self.v1 < other.v2
            and other.v1 < self.v2
        )

    def grown(self, by: float) -> Area:
        """Return the area with `by` [mm] added on all sides."""
        return Area(u1=self.u1 - by, v1=self.v1 - by, u2=self.u2 + by, v2=self.v2 + by)


@dataclass(frozen=True, kw_only=True)
class Text:
    """Keep a text and the area it takes; `rotated` ones read from the right."""

    words: str
    kind: TextKind
    area: Area
    anchor: Literal["start", "middle"] = "middle"
    rotated: bool = False


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """Keep a whole drawing, laid out; `svg` writes it.

    `faces` stand far ones first. `unit` is how many mm of the piece one mm of the
    page shows when the drawing is as wide as it was laid out for.
    """

    view: View
    caption: str
    description: str
    faces: tuple[Face, ...]
    sight: Sight
    thin: tuple[Stroke, ...]
    ticks: tuple[Stroke, ...]
    dots: tuple[tuple[float, float], ...]
    texts: tuple[Text, ...]
    page: Area
    text_size: float
    unit: float


@dataclass(frozen=True, kw_only=True)
class Shape:
    """Keep an area of a picture by its corners, and what it shows.

    `data` holds more about it, by name, as a reader of the SVG finds it [mm].
    """

    kind: Literal["part", "slot"]
    key: str
    name: str
    corners: tuple[Point, ...]
    data: tuple[tuple[str, Interval], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Picture:
    """Keep a drawing whose lines run any way, laid out; `svg` writes it.

    `shapes` stand far ones first, `chained` are axes of symmetry. `unit` is as in
    `Drawing`.
    """

    kind: Literal["pictorial", "part"]
    caption: str
    description: str
    shapes: tuple[Shape, ...]
    visible: tuple[Stroke, ...]
    hidden: tuple[Stroke, ...]
    thin: tuple[Stroke, ...]
    texts: tuple[Text, ...]
    page: Area
    text_size: float
    unit: float
    chained: tuple[Stroke, ...] = ()
    ticks: tuple[Stroke, ...] = ()
    dots: tuple[Point, ...] = ()
