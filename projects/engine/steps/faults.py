"""What can be impossible about an order of steps: what, why, and what to do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

FaultKind = Literal[
    "stage_order",
    "part_never_cut",
    "joint_never_cut",
    "never_measured",
    "joint_early",
    "dry_fit_early",
    "fitted_early",
    "measured_late",
    "assembly_early",
]


@dataclass(frozen=True, kw_only=True)
class Saying:
    """Hold the words of one kind of fault, to be filled with names."""

    what: str
    why: str
    remedy: str


SAYINGS: dict[FaultKind, Saying] = {
    "stage_order": Saying(
        what='"{step}" belongs to {stage}, but comes after "{other}" of {other_stage}.',
        why="The stages follow each other; only dry fits and fitted parts take turns.",
        remedy='Move "{step}" before "{other}", or put it into another stage.',
    ),
    "part_never_cut": Saying(
        what="No step cuts {names} to size.",
        why="What follows needs the part.",
        remedy="Name it in a step of milling, joinery, fitted parts or shaping.",
    ),
    "joint_never_cut": Saying(
        what="No step cuts {joint} in the {part}.",
        why="The two parts don't go together without it.",
        remedy="Name the joint and the part in a step of joinery or fitted parts.",
    ),
    "never_measured": Saying(
        what="No step measures {distance}, which {names} waits for.",
        why="The size of the part comes from the dry assembly.",
        remedy="Add a dry fit that measures {distance}.",
    ),
    "joint_early": Saying(
        what='"{step}" works on {names}, cut to size only in "{other}".',
        why="A joint is laid out from the ends and edges of a part of its final size.",
        remedy='Move "{step}" behind "{other}".',
    ),
    "dry_fit_early": Saying(
        what='"{step}" needs {names}, cut only in "{other}".',
        why="What is measured on an assembly with open joints is wrong.",
        remedy='Move "{step}" behind "{other}", or leave out what it does not need.',
    ),
    "fitted_early": Saying(
        what='"{step}" cuts {names} before "{other}" measures {distance}.',
        why="The size comes from what the dry assembly really measures; cut by the "
        "plan's number it may end up too short.",
        remedy='Move "{step}" behind "{other}".',
    ),
    "measured_late": Saying(
        what='"{step}" needs {names} measured first, but "{other}" measures it later.',
        why="Its settings come from that reading.",
        remedy='Move "{other}" before "{step}".',
    ),
    "assembly_early": Saying(
        what='"{step}" puts together {names}, cut only in "{other}".',
        why="After the glue nothing can be cut or fitted any more.",
        remedy='Move "{step}" behind "{other}", or name in it only the parts it joins.',
    ),
}


@dataclass(frozen=True, kw_only=True)
class Fault:
    """Hold one thing that can't be done in this order.

    `steps` are the keys of the steps it is about, the one to move first; `about` the
    keys of the parts, joints or distances; `values` fill the kind's words.
    """

    kind: FaultKind
    steps: tuple[str, ...]
    about: tuple[str, ...]
    values: Mapping[str, str]

    @property
    def what(self) -> str:
        """What is wrong."""
        return SAYINGS[self.kind].what.format(**self.values)

    @property
    def why(self) -> str:
        """Why it can't be done."""
        return SAYINGS[self.kind].why.format(**self.values)

    @property
    def remedy(self) -> str:
        """What to do about it."""
        return SAYINGS[self.kind].remedy.format(**self.values)
