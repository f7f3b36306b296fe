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
    "slot_at_saw": Caution(
        text="For a slot at the table saw the blade guard is often off: keep "
        "featherboards or a jig in place, use push blocks, and stand out of line "
        "with the cut. A slot that ends inside the part is not cut at the saw by "
        "lowering the part onto the blade.",
        source="29 CFR 1910.213(a)(15), featherboards or jigs where the standard "
        "guard can't be used; the rest common practice, no source",
    ),
    "slot_with_router": Caution(
        text="With a router cut a deep slot in several passes, feed against the "
        "turning of the bit, and clamp the part and its fence.",
        source="common practice, no source",
    ),
    "tenon_at_saw": Caution(
        text="For a tenon at the table saw never use the fence as a stop for a "
        "piece that is cut off with the mitre gauge: it can bind and be thrown. "
        "Set a stop block ahead of the blade.",
        source="common practice, no source",
    ),
    "mortise": Caution(
        text="At the mortiser clamp the part, lower the hold-down, and let the "
        "chisel clear its chips; keep the chuck key out of the chuck.",
        source="29 CFR 1910.213(l)(1) to (3), safety chucks and enclosed bits; the "
        "rest common practice, no source",
    ),
    "drill": Caution(
        text="At the drill press clamp the part, back it up, and tie back hair, "
        "sleeves and cords.",
        source="common practice, no source",
    ),
    "eyes": Caution(
        text="Wear eye protection with side shields at every machine, and hearing "
        "protection where it is loud.",
        source="29 CFR 1910.133(a)(1) and (2); 29 CFR 1910.95, Table G-16",
    ),
    "length": Caution(
        text="Many machines take no part shorter than 12 in. Cut a short part from "
        "a longer one, or ask.",
        source="common practice, no source (jointer and table saw minimum lengths "
        "as school rules give them)",
    ),
}


def cautions(keys: Iterable[str]) -> tuple[Caution, ...]:
    """Return the first caution, eyes and ears, then those of `keys`, each once."""
    ordered = dict.fromkeys(("eyes", *keys))
    return (FIRST, *(CAUTIONS[key] for key in ordered))
