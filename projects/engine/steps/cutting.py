"""How the cuts of each kind of joint are made: machine, other ways, what to mind.

Source of the notes: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from projects.engine.joints.dado import stops_of
from projects.engine.plan.records import Joint
from projects.engine.plan.steps import OtherWay

Side = Literal["host", "guest"]
SIDES: tuple[Side, ...] = ("host", "guest")


@dataclass(frozen=True, kw_only=True)
class Cutting:
    """Describe one way a joint's cuts are made.

    `titles` are filled with `cuts` (`one` or `many`), `guests` and `hosts`; the first
    short enough is taken. With `by_setting` the cuts of one setting go together, else
    those of one guest.
    """

    key: str
    one: str
    many: str
    titles: tuple[str, ...]
    machine: str
    other_ways: tuple[OtherWay, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""
    by_setting: bool = True


_SLOT_ROUTER = OtherWay(
    machine="router", note="Against a clamped straight edge, in several passes."
)
_SLOT_TABLE = OtherWay(
    machine="router_table", note="Along the fence, in several passes."
)
_SLOT_HAND = OtherWay(
    machine="hand_tools", note="Saw both walls, chisel out, level with a router plane."
)

_SLOT_TITLES = (
    "Cut the {cuts} for the {guests} in the {hosts}",
    "Cut the {cuts} for the {guests}",
)

DADO = Cutting(
    key="dado",
    one="dado",
    many="dadoes",
    titles=_SLOT_TITLES,
    machine="table_saw",
    other_ways=(_SLOT_ROUTER, _SLOT_HAND),
    cautions=("slot_at_saw",),
    note="Try the slot on scrap of the same thickness first: a push of the hand "
    "should seat it.",
)
STOPPED_DADO = Cutting(
    key="dado",
    one="stopped dado",
    many="stopped dadoes",
    titles=_SLOT_TITLES,
    machine="router",
    other_ways=(
        OtherWay(machine="router_table", note="Stop blocks at both ends of the cut."),
        _SLOT_HAND,
    ),
    cautions=("slot_with_router",),
    note="Mark where the slot stops on every part before the first cut, then square "
    "its end with a chisel. Try it on scrap first.",
)
NOTCH = Cutting(
    key="notch",
    one="notch",
    many="notches",
    titles=("Notch the corners of the {guests}",),
    by_setting=False,
    machine="hand_tools",
    other_ways=(OtherWay(machine="band_saw", note="Both cuts to the line."),),
    note="Only where the cut sheet gives a notch. Mark it from the slot itself.",
)
RABBET = Cutting(
    key="rabbet",
    one="rabbet",
    many="rabbets",
    titles=_SLOT_TITLES,
    machine="table_saw",
    other_ways=(
        _SLOT_TABLE,
        OtherWay(machine="hand_tools", note="With a rabbet plane against a fence."),
    ),
    cautions=("slot_at_saw",),
    note="Try it on scrap first: the two faces should come out flush.",
)
GROOVE = Cutting(
    key="groove",
    one="groove",
    many="grooves",
    titles=_SLOT_TITLES,
    machine="table_saw",
    other_ways=(
        _SLOT_TABLE,
        OtherWay(machine="hand_tools", note="With a plough plane."),
    ),
    cautions=("slot_at_saw",),
    note="One fence setting for all parts, each with the same edge against the fence.",
)
MORTISE = Cutting(
    key="mortise",
    one="mortise",
    many="mortises",
    titles=_SLOT_TITLES,
    machine="mortiser",
    other_ways=(
        OtherWay(machine="drill_press", note="Drill in a row, square with a chisel."),
        OtherWay(machine="router", note="In a jig, in several passes."),
        OtherWay(machine="hand_tools", note="Chop with a mortise chisel."),
    ),
    note="The same face against the fence on every part.",
)
TENON = Cutting(
    key="tenon",
    one="tenon",
    many="tenons",
    titles=("Cut the {cuts} on the {guests}",),
    machine="table_saw",
    other_ways=(
        OtherWay(machine="band_saw", note="Cheeks to the line; shoulders by hand."),
        OtherWay(machine="router_table", note="Square block behind the part."),
        OtherWay(machine="hand_tools", note="Tenon saw and shoulder plane."),
    ),
    cautions=("tenon_at_saw",),
    note="Shoulders first. Leave the tenon thick and pare it to its own mortise.",
)
HALF_LAP = Cutting(
    key="half_lap",
    one="half lap",
    many="half laps",
    titles=(
        "Cut the {cuts} between the {guests} and the {hosts}",
        "Cut the {cuts} for the {guests}",
    ),
    machine="table_saw",
    other_ways=(
        OtherWay(machine="router", note="Between two clamped straight edges."),
        OtherWay(machine="band_saw", note="At the ends only, to the line."),
        OtherWay(machine="hand_tools", note="Saw the shoulders, chisel to the line."),
    ),
    cautions=("slot_at_saw",),
    note="Set the depth on two pieces of scrap until their faces come out flush.",
)
DOWELS = Cutting(
    key="dowels",
    one="dowel hole",
    many="dowel holes",
    titles=(
        "Drill the {cuts} between the {guests} and the {hosts}",
        "Drill the {cuts} for the {guests}",
    ),
    machine="drill_press",
    other_ways=(OtherWay(machine="hand_tools", note="Hand drill in a dowelling jig."),),
    note="Mark both parts from each other and number the joint. Holes in the end of "
    "a long part: dowelling jig.",
)


def _dado(joint: Joint, side: Side) -> Cutting | None:
    if not stops_of(joint):
        return DADO if side == "host" else None
    return STOPPED_DADO if side == "host" else NOTCH


CUTTINGS: dict[str, Callable[[Joint, Side], Cutting | None]] = {
    "dado": _dado,
    "rabbet": lambda _joint, side: RABBET if side == "host" else None,
    "groove": lambda _joint, side: GROOVE if side == "host" else None,
    "butt": lambda _joint, _side: None,
    "tenon": lambda _joint, side: MORTISE if side == "host" else TENON,
    "half_lap": lambda _joint, _side: HALF_LAP,
    "dowel": lambda _joint, _side: DOWELS,
}
"""How each kind of joint is cut on each side; None where nothing is."""

IN_ORDER = (DADO, STOPPED_DADO, RABBET, GROOVE, MORTISE, TENON, HALF_LAP, DOWELS, NOTCH)
"""The order in which the cuts of a piece are made: slots before what fits them."""


def must_cut(joint: Joint) -> tuple[str, ...]:
    """Return those parts of a joint that have to be cut for it.

    A notch is left out: whether one is needed depends on the sizes.
    """
    parts = {"host": joint.host.part, "guest": joint.guest.part}
    cuttings = ((side, CUTTINGS[joint.kind](joint, side)) for side in SIDES)
    return tuple(parts[side] for side, c in cuttings if c and c is not NOTCH)
