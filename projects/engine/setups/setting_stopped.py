"""How usual practice cuts what ends short of an edge, with the cutter below.

A part is fed over the cutter edge first. Where the cut ends short of the edge that goes
in first, it begins inside the part: a drop cut. Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from projects.engine.setups.setting_records import Piece, Setting
from projects.engine.setups.words import Words

NOT_AT_SAW = (
    "That would be a drop cut, as it begins inside the part: it is not made at the "
    "table saw, but with a router (common practice, no source)."
)
FROM_STOP_BLOCK = (
    "That is a drop cut, as it begins inside the part. Usual practice: start with the "
    "part against a stop block, end at another, and lift it off only after the machine "
    "has stopped; or cut it from above with a router (common practice, no source)."
)
LIFT_AT_END = (
    "Usual practice: feed up to a stop block, switch off, and lift the part off only "
    "after the {tool} has stopped (common practice, no source)."
)
CURVE_LEFT = "The round of the blade stays at that end: clear it by hand."


def is_drop_cut(piece: Piece) -> bool:
    """Return whether a cut from below begins inside the part.

    It does where it ends short of the edge that goes in first, or of both.
    """
    stopped = [end for end in piece.ends if not end.at_least]
    return len(stopped) > 1 or any(end.leads for end in stopped)


def stopped_words(setting: Setting, piece: Piece, tool: str) -> Iterator[Words]:
    """Give what usual practice does about a cut that ends short of an edge."""
    at_saw = setting.machine == "table_saw"
    if is_drop_cut(piece):
        yield Words(template=NOT_AT_SAW if at_saw else FROM_STOP_BLOCK)
    elif any(not end.at_least for end in piece.ends):
        yield Words(template=LIFT_AT_END, terms={"tool": tool})
        if at_saw:
            yield Words(template=CURVE_LEFT)
