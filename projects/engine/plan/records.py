"""The records of a plan. They hold only what a plan file says, checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from projects.engine.units import Length
from projects.engine.units.length import UnitSystem

if TYPE_CHECKING:
    # at run time steps are read with the records below
    from projects.engine.plan.steps import Step

Axis = Literal["x", "y", "z"]
Dimension = Literal["length", "width", "thickness"]
FaceName = Literal["left", "right", "front", "back", "bottom", "top"]

AXES: tuple[Axis, ...] = ("x", "y", "z")
DIMENSIONS: tuple[Dimension, ...] = ("length", "width", "thickness")
FACES: dict[FaceName, tuple[Axis, bool]] = {
    "left": ("x", False),
    "right": ("x", True),
    "front": ("y", False),
    "back": ("y", True),
    "bottom": ("z", False),
    "top": ("z", True),
}
"""Axis of each face, and whether it is the high end of its part on that axis."""


@dataclass(frozen=True, kw_only=True, order=True)
class Face:
    """Name one of the six faces of a part."""

    part: str
    name: FaceName

    @property
    def axis(self) -> Axis:
        """The axis the face lies across."""
        return FACES[self.name][0]

    @property
    def is_high(self) -> bool:
        """Whether it is the right, back or top face."""
        return FACES[self.name][1]

    @property
    def opposite(self) -> FaceName:
        """The name of the face it would look at."""
        return next(
            name
            for name, (axis, high) in FACES.items()
            if axis == self.axis and high is not self.is_high
        )

    def __str__(self) -> str:
        return f"{self.part}.{self.name}"


@dataclass(frozen=True, kw_only=True)
class Stock:
    """Describe the material parts are made of, with its nominal thickness."""

    key: str
    name: str
    kind: str
    species: str
    thickness: Length


@dataclass(frozen=True, kw_only=True)
class Part:
    """Describe one part: which axis its length, width and thickness lie on.

    `round_over` is the radius its edges are rounded over with, on both wide faces.
    """

    key: str
    name: str
    stock: str
    axes: Mapping[Dimension, Axis]
    pair: str | None
    count: int
    round_over: Length | None = None

    def dimension_on(self, axis: Axis) -> Dimension:
        """Return which of the three dimensions lies on `axis`."""
        return next(name for name in DIMENSIONS if self.axes[name] == axis)

    def across(self, axis: Axis) -> Dimension:
        """Return the dimension that is neither the thickness nor on `axis`.

        Where the thickness itself is on `axis`, the length.
        """
        return "length" if self.axes["length"] != axis else "width"

    def faces_on(self, axis: Axis) -> tuple[Face, Face]:
        """Return the low and the high face on `axis`."""
        low, high = (name for name, (of, _) in FACES.items() if of == axis)
        return Face(part=self.key, name=low), Face(part=self.key, name=high)


@dataclass(frozen=True, kw_only=True)
class Depth:
    """Say how deep a guest lies in its host: a length, a share of it, or neither.

    With `length` it is that; with `share` it is that share [-] of the host's extent
    on the joint's axis; with neither the two faces touch.
    """

    length: Length | None = None
    share: Fraction | None = None


@dataclass(frozen=True, kw_only=True)
class Joint:
    """Say that the guest's face lies `depth` inside the host's face.

    `details` holds what only this kind of joint has, read by its own file.
    """

    key: str
    name: str
    kind: str
    guest: Face
    host: Face
    depth: Depth
    clearance: Length | None
    details: object = None


@dataclass(frozen=True, kw_only=True)
class Distance:
    """Say how far `end` is from `start`, both on one axis.

    `value` is what is wanted (None: only shown), `held` its rank, `dry_fit` whether
    it is measured on the dry assembly, `fits` the parts cut to that measurement.
    """

    key: str
    name: str
    start: Face
    end: Face
    value: Length | None
    held: int | None
    dry_fit: bool
    fits: tuple[str, ...]


Flush = tuple[Face, ...]
Even = tuple[tuple[Face, Face], ...]


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Hold a whole plan, as read and checked.

    Two plans are the same when their `digest` (of the file's bytes) is.
    """

    title: str
    units: UnitSystem
    tape: int
    stock: tuple[Stock, ...] = field(compare=False)
    parts: tuple[Part, ...] = field(compare=False)
    joints: tuple[Joint, ...] = field(compare=False)
    distances: tuple[Distance, ...] = field(compare=False)
    flush: tuple[Flush, ...] = field(compare=False)
    even: tuple[Even, ...] = field(compare=False)
    digest: str
    steps: tuple[Step, ...] = field(default=(), compare=False)

    @cached_property
    def part_by_key(self) -> dict[str, Part]:
        """The parts by key."""
        return {part.key: part for part in self.parts}

    @cached_property
    def stock_by_key(self) -> dict[str, Stock]:
        """The stock by key."""
        return {stock.key: stock for stock in self.stock}

    @cached_property
    def joint_by_key(self) -> dict[str, Joint]:
        """The joints by key."""
        return {joint.key: joint for joint in self.joints}

    @cached_property
    def distance_by_key(self) -> dict[str, Distance]:
        """The distances by key."""
        return {distance.key: distance for distance in self.distances}

    def face_name(self, face: Face) -> str:
        """Return a face in words, such as `Left side, right face`."""
        return f"{self.part_by_key[face.part].name}, {face.name} face"

    def joint_name(self, joint: Joint) -> str:
        """Return a joint in words, such as `Shelf in Left side`."""
        if joint.name:
            return joint.name
        guest, host = (self.part_by_key[f.part].name for f in (joint.guest, joint.host))
        return f"{guest} in {host}"
