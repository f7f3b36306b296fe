"""What a look at a draft, a comparison and a merge hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from projects.engine.draft.document import Document
from projects.engine.drawing import Box
from projects.engine.fit.solve import Solution
from projects.engine.fit.system import SizeKey
from projects.engine.joints import Cuts
from projects.engine.plan.records import Axis, Plan


@dataclass(frozen=True, kw_only=True)
class Ref:
    """Point at an entry of a document, and perhaps at one field of it.

    `list_name` is `head` for title, units, tape and the whole. `key` is "" where
    the entry has none.
    """

    list_name: str
    index: int = 0
    key: str = ""
    field: str = ""


@dataclass(frozen=True, kw_only=True)
class Note:
    """Say one thing about the entries in `at`.

    `message` is a `str.format` template that `values` fill, so that a caller who
    translates can look it up first; `text` is the whole.
    """

    message: str
    values: Mapping[str, object]
    at: tuple[Ref, ...] = ()

    @property
    def text(self) -> str:
        """What is said, in English."""
        return self.message.format(**self.values)


@dataclass(frozen=True, kw_only=True)
class Fault(Note):
    """Say why a field can't be read; `place` is as the reader names it.

    `left_out` where the drawing does without the entry.
    """

    place: str
    left_out: bool = False


@dataclass(frozen=True, kw_only=True)
class Fix:
    """Hold a way to answer a question: a distance, a joint or a flush list.

    `faces` are where it would start; of a distance the second may be "", to choose.
    """

    kind: Literal["distance", "joint", "flush"]
    faces: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Question(Note):
    """Say what nothing fixes yet.

    `needed` where the plan can't be published without an answer: a `place` alone
    is not. `cuts` where somebody cuts to it all the same: a slot's place.
    """

    kind: Literal["size", "face", "distance", "place"]
    needed: bool
    faces: tuple[str, ...]
    axes: tuple[Axis, ...]
    fixes: tuple[Fix, ...]
    cuts: bool = False


@dataclass(frozen=True, kw_only=True)
class Contradiction(Note):
    """Say that the entries in `at` can't all hold, and fail by `off_mm` [mm]."""

    off_mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Gives(Note):
    """Say that a wanted distance, first in `at`, comes out `off_mm` [mm] over.

    The rest of `at` is what it yields to.
    """

    wanted_mm: Fraction
    comes_out_mm: Fraction
    off_mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Trouble(Note):
    """Say what else keeps the plan from being published."""


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """Hold a part's box, and on which axes its size or its place is a guess."""

    box: Box
    guessed_sizes: frozenset[Axis]
    guessed_places: frozenset[Axis]


@dataclass(frozen=True, kw_only=True, eq=False)
class Look:
    """Hold all that can be said about a draft.

    `sizes` and `distances` [mm] hold what is fixed, `cuts` those of joints between
    parts that have their sizes. `plan` is what could be read; `solution` is there
    exactly where the plan could be published.
    """

    faults: tuple[Fault, ...] = ()
    questions: tuple[Question, ...] = ()
    contradictions: tuple[Contradiction, ...] = ()
    gives: tuple[Gives, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    sizes: Mapping[SizeKey, Fraction] = field(default_factory=dict)
    distances: Mapping[str, Fraction | None] = field(default_factory=dict)
    cuts: Mapping[str, Cuts] = field(default_factory=dict)
    housed: frozenset[tuple[str, str]] = frozenset()
    plan: Plan | None = None
    solution: Solution | None = None

    @property
    def ready(self) -> bool:
        """Whether the plan could be published as it is."""
        return self.solution is not None

    @property
    def notes(self) -> tuple[Note, ...]:
        """Everything said, what stands most in the way first."""
        return (
            *self.faults,
            *self.contradictions,
            *self.troubles,
            *self.questions,
            *self.gives,
        )

    def about(self, list_name: str, key: str) -> tuple[Note, ...]:
        """Return what concerns one entry."""
        return tuple(
            note
            for note in self.notes
            if any(ref.list_name == list_name and ref.key == key for ref in note.at)
        )


@dataclass(frozen=True, kw_only=True)
class Change(Note):
    """Hold one difference between two documents.

    `field` is "" for a whole entry; `before` and `after` are its values, None where
    there is none.
    """

    kind: Literal["added", "changed", "removed", "moved"]
    field: str = ""
    before: Any = None
    after: Any = None


@dataclass(frozen=True, kw_only=True)
class Conflict(Note):
    """Hold what two people changed in two ways; `field` is "" for a whole entry."""

    field: str
    base: Any
    mine: Any
    theirs: Any

    @property
    def stays(self) -> bool:
        """Whether one removed the entry and the other changed it, so that it stays."""
        return not self.field and None in (self.mine, self.theirs)

    @property
    def place(self) -> str:
        """Which entry and field it is about; the same in every merge of one change."""
        ref = self.at[0]
        return f"{ref.list_name}:{ref.key or ref.index}:{self.field}"


@dataclass(frozen=True, kw_only=True)
class Merged:
    """Hold two people's changes in one document.

    Where they are in conflict it holds `theirs`; a removed entry that the other
    worked on is kept. `mine` and `theirs` are the changes since the base.
    """

    document: Document
    conflicts: tuple[Conflict, ...]
    mine: tuple[Change, ...]
    theirs: tuple[Change, ...]
