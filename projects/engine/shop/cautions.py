"""Cautions for the cuts that joints need, each with where it comes from.

They remind; they never say that anything is safe. The first one always stands.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Caution:
    """Say what to mind, and its `source`."""

    text: str
    source: str


FIRST = Caution(
    text="The machine's manual, local codes, school policy and licensed or trained "
    "instruction come first. Use a machine only after your sign-off for it.",
    source="the project's own rule",
)

CAUTIONS: dict[str, Caution] = {
    "eyes": Caution(
        text="Eye protection with side shields at every machine; hearing protection "
        "where it is loud.",
        source="29 CFR 1910.133(a)(1) and (2); 29 CFR 1910.95, Table G-16",
    ),
    "slot_at_saw": Caution(
        text="Slots at the table saw, where the guard is off: featherboards or a jig, "
        "push blocks, and stand out of line. Never lower a part onto the blade.",
        source="29 CFR 1910.213(a)(15), featherboards or jigs where the standard "
        "guard can't be used; the rest common practice, no source",
    ),
    "slot_with_router": Caution(
        text="Router: clamp part and fence, feed against the turning of the bit, cut "
        "deep slots in several passes.",
        source="common practice, no source",
    ),
    "tenon_at_saw": Caution(
        text="Tenons at the table saw: the fence is no stop for a piece that comes "
        "off; use a stop block ahead of the blade.",
        source="common practice, no source",
    ),
    "mortise": Caution(
        text="Mortiser: clamp the part, set the hold-down, take the chuck key out.",
        source="29 CFR 1910.213(l)(1) to (3), safety chucks and enclosed bits; the "
        "rest common practice, no source",
    ),
    "drill": Caution(
        text="Drill press: clamp the part and back it up; tie back hair and sleeves.",
        source="common practice, no source",
    ),
    "length": Caution(
        text="Many machines take no part shorter than 12 in: cut it from a longer "
        "one, or ask.",
        source="common practice, no source (jointer and table saw minimum lengths "
        "as school rules give them)",
    ),
}


def cautions(keys: Iterable[str]) -> tuple[Caution, ...]:
    """Return the first caution, eyes and ears, then those of `keys`, each once."""
    ordered = dict.fromkeys(("eyes", *keys))
    return (FIRST, *(CAUTIONS[key] for key in ordered))
