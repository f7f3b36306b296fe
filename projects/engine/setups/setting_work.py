"""One cut on one part before it is known how the part is laid for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from projects.engine.plan.records import FACES, Axis, FaceName, Part
from projects.engine.setups.setting_records import NOTHING, Kind, Sum


@dataclass(frozen=True, kw_only=True)
class Walls:
    """Say where the walls of a cut are from one end of its part.

    What sits in it is `gap` inside that end; the near wall is `inset` further in, or
    `play` further out, and the far wall `width` behind it. With `flush` the cut runs
    out at that end, level with what sits in it.
    """

    gap: Sum
    width: Sum
    inset: Sum = NOTHING
    play: Sum = NOTHING
    flush: bool = False

    @cached_property
    def near_mm(self) -> Fraction:
        """How far the near wall is from the end [mm]; below 0 past it."""
        return self.gap.mm + self.inset.mm - self.play.mm

    @property
    def open(self) -> bool:
        """Whether the cut runs out at this end."""
        return self.flush or self.near_mm <= 0

    @property
    def told(self) -> Sum:
        """How far the one wall is from the end where it runs out there, else the near.

        What ends level with the part gets the whole width of the slot: the clearance
        lies on the inside, at whichever end the cut runs out.
        """
        if self.flush:
            return self.width
        near = self.gap.plus(self.inset).minus(self.play)
        return near.plus(self.width) if self.open else near


@dataclass(frozen=True, kw_only=True)
class Run:
    """Say that a cut ends short of an edge; see `PieceEnd`."""

    short: Sum
    at_least: bool


@dataclass(frozen=True, kw_only=True)
class Work:
    """Hold one cut: `walls` by the end they are told from, both ends of one axis.

    Empty walls: the plan doesn't fix the place, or `stop` says it whichever end is
    taken. `either`: the opposite of the face worked would do as well. `runs` says where
    the cut ends short the other way, `length` how long it is where it stops at both
    ends. `standing` is the face a part stands on where it doesn't lie on the face
    worked, `in_turn` are the faces then laid against the fence.
    """

    part: Part
    kind: Kind
    joint: str = ""
    other: str = ""
    worked: tuple[FaceName, ...] = ()
    either: bool = False
    walls: Mapping[FaceName, Walls] = field(default_factory=dict)
    stop: Sum | None = None
    width: Sum | None = None
    height: Sum | None = None
    runs: Mapping[FaceName, Run] = field(default_factory=dict)
    length: Sum | None = None
    standing: FaceName | None = None
    in_turn: tuple[FaceName, ...] = ()
    holes: int = 0


def mirrored_face(name: FaceName, axis: Axis) -> FaceName:
    """Return the face that a mirror across an axis makes of one."""
    of, high = FACES[name]
    if of != axis:
        return name
    return next(f for f, (a, h) in FACES.items() if a == axis and h is not high)


def opposite(name: FaceName) -> FaceName:
    """Return the face on the other side of a part."""
    return mirrored_face(name, FACES[name][0])
