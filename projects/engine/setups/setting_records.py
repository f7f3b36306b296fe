"""What is set at a machine for a step, as records with their sums kept."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.fit.solve import Solution, Term
from projects.engine.fit.system import Form
from projects.engine.plan.records import FaceName

Kind = Literal[
    "thickness",
    "rip",
    "crosscut",
    "slot",
    "groove",
    "rabbet",
    "lap",
    "mortise",
    "shoulder",
    "cheek",
    "hole",
    "notch",
]
KINDS: tuple[Kind, ...] = (
    "thickness",
    "rip",
    "crosscut",
    "slot",
    "groove",
    "rabbet",
    "lap",
    "mortise",
    "shoulder",
    "cheek",
    "hole",
    "notch",
)
"""The kinds of setup in the order in which a step makes them."""

ONE = Fraction(1)
Rest = Literal["stop", "fence", "none"]
Side = Literal["near", "far", "none"]
Name = Literal["stop", "width", "height", "start", "length", "short", "other_short"]
"""What is set; of two edges that a cut ends short of the nearer end is `short`."""
SHORTS: tuple[Name, Name] = ("short", "other_short")
Looks = Literal["", "inside", "outside"]


NO_FORM = Form(terms=())


@dataclass(frozen=True, kw_only=True)
class Extra:
    """Hold a term of a sum that no input gives, such as a clearance [mm]."""

    name: str
    mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Sum:
    """Hold a length [mm] with the sum it is: a form over the inputs, and extras.

    `waits` names the dry-fit distances that it waits for.
    """

    mm: Fraction
    form: Form = NO_FORM
    extras: tuple[Extra, ...] = ()
    waits: tuple[str, ...] = ()

    def plus(self, other: Sum, *, times: Fraction = ONE) -> Sum:
        """Return this sum plus `times` [-] another."""
        if other is NOTHING:
            return self
        form, extras, waits = self.form, other.extras, self.waits
        if other.form.terms:
            form = form.plus(other.form, times=times)
        if times != ONE:
            extras = tuple(Extra(name=e.name, mm=times * e.mm) for e in extras)
        if other.waits:
            waits = tuple(dict.fromkeys((*waits, *other.waits)))
        return Sum(
            mm=self.mm + (other.mm if times == ONE else times * other.mm),
            form=form,
            extras=(*self.extras, *extras),
            waits=waits,
        )

    def minus(self, other: Sum) -> Sum:
        """Return this sum less another."""
        return self.plus(other, times=-ONE)

    def times(self, times: Fraction) -> Sum:
        """Return the sum `times` [-] as much."""
        return NOTHING.plus(self, times=times)


NOTHING = Sum(mm=Fraction(0))


@dataclass(frozen=True, kw_only=True)
class Quantity:
    """Hold one number to set [mm], None while it waits for a dry fit.

    `key` says which number of which setup it is, the same for every student of a
    class. `form` and `extras` are its sum: the value is that of the form plus the
    extras.
    """

    name: Name
    key: str
    mm: Fraction | None
    form: Form
    extras: tuple[Extra, ...]

    def terms(self, solution: Solution) -> tuple[Term, ...]:
        """Return the terms of the form with names and values, for reading out."""
        return solution.terms(self.form)


@dataclass(frozen=True, kw_only=True)
class PieceEnd:
    """Say that a cut ends `mm` [mm] short of an edge of the part.

    `leads` says whether that edge goes into the cut first (None where nothing is
    fed). With `at_least` it ends there at the earliest: the part that sits in it ends
    there, and the plan doesn't say whether the cut runs on.
    """

    edge: FaceName
    mm: Fraction
    leads: bool | None
    at_least: bool = False


@dataclass(frozen=True, kw_only=True)
class Piece:
    """Say how one part is laid for a setting; with two faces, each in its turn.

    `worked` are the faces cut into, `down` those that lie on the table, `against`
    those at the stop or fence, `leads` the one that goes into the cut first where the
    stop or fence stands to the right of the cut, as seen by who feeds. With `either`
    the opposite of the face `worked` would do as well. `other` is the part that meets
    there, `mirrors` the part whose mirror image this one is here, `looks` whether the
    wide face worked looks at that one or away from it.
    """

    part: str
    count: int
    joint: str = ""
    other: str = ""
    worked: tuple[FaceName, ...] = ()
    down: tuple[FaceName, ...] = ()
    against: tuple[FaceName, ...] = ()
    leads: FaceName | None = None
    either: bool = False
    ends: tuple[PieceEnd, ...] = ()
    start_from: FaceName | None = None
    holes: int = 0
    mirrors: str | None = None
    looks: Looks = ""
    in_doubt: bool = False


@dataclass(frozen=True, kw_only=True)
class Setting:
    """Hold one setup of a machine and the pieces that are cut at it.

    `key` says which setup it is, whatever its numbers: two students' settings with
    one key can share a setup where their numbers are near enough. `rest` is what the
    part lies against, `side` the side of the blade or bit that `stop` is measured to:
    the near one, or the far one where the cut itself lies between.
    """

    key: str
    kind: Kind
    machine: str
    rest: Rest
    side: Side
    quantities: tuple[Quantity, ...]
    pieces: tuple[Piece, ...]
    waits: tuple[str, ...] = ()

    def quantity(self, name: Name) -> Quantity | None:
        """Return the number of that name, if this setting has one."""
        return next((q for q in self.quantities if q.name == name), None)

    def mm(self, name: Name) -> Fraction | None:
        """Return the number of that name [mm]; None where there is none yet."""
        found = self.quantity(name)
        return found.mm if found else None

    @property
    def stop_mm(self) -> Fraction | None:
        """How far the stop or fence stands from the `side` of the blade or bit."""
        return self.mm("stop")

    @property
    def height_mm(self) -> Fraction | None:
        """How high the blade or bit stands, or how deep it goes."""
        return self.mm("height")

    @property
    def width_mm(self) -> Fraction | None:
        """How wide the slot, the chisel or the drill is."""
        return self.mm("width")

    @property
    def in_doubt(self) -> bool:
        """Whether a part of it was logged as cut at what can't be."""
        return any(piece.in_doubt for piece in self.pieces)

    @property
    def count(self) -> int:
        """How many pieces are cut, copies and all."""
        return sum(piece.count for piece in self.pieces)
