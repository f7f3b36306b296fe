"""Cautions for machines and for the cuts that joints need, each with its source.

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
        "guard can't be used (paragraph from memory); the rest common practice, no "
        "source",
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
    "jointer": Caution(
        text="Jointer: guard over the knives, push blocks on flat work, shallow cuts. "
        "No hand passes over the cutter head; short or thin pieces stay away.",
        source="29 CFR 1910.213(j)(3), automatic guard; (s)(9) and (s)(12), push "
        "blocks (paragraphs from memory); the rest common practice, no source",
    ),
    "planer": Caution(
        text="Planer: stand beside the board's path, let go once it feeds, never look "
        "in or reach in. No loose knots, no piece shorter than its manual allows.",
        source="29 CFR 1910.213(n)(3), feed rolls guarded against fingers; the rest "
        "common practice, no source",
    ),
    "table_saw": Caution(
        text="Table saw: guard and riving knife on wherever the cut allows, push "
        "stick near the blade, stand out of line. Rip at the fence, crosscut at the "
        "mitre gauge; never freehand, never both together on a piece that comes off.",
        source="29 CFR 1910.213(c)(1) to (3), hood, spreader, kickback fingers; "
        "(s)(9), push sticks (paragraph from memory); the rest common practice, no "
        "source",
    ),
    "mitre_saw": Caution(
        text="Mitre saw: the part flat against the fence, hands out of the blade's "
        "path and never crossed. Let the blade stop before it comes up.",
        source="common practice, no source",
    ),
    "band_saw": Caution(
        text="Band saw: guard set just above the part, fingers beside the line of "
        "cut. Stop the blade before backing out of a long cut.",
        source="29 CFR 1910.213(i)(1), blade enclosed but for its working part; the "
        "rest common practice, no source",
    ),
    "router": Caution(
        text="Router: unplug it to change the bit, clamp the part, both hands on the "
        "handles, and let the bit stop before setting it down.",
        source="common practice, no source",
    ),
    "router_table": Caution(
        text="Router table: guard over the bit, featherboards or push blocks, feed "
        "against the turning of the bit; never between bit and fence.",
        source="29 CFR 1910.213(a)(15), featherboards or jigs (paragraph from "
        "memory); the rest common practice, no source",
    ),
    "sander": Caution(
        text="Sander: fingers off disk and belt, work against the table on the side "
        "that turns down, nothing loose near the belt's rollers.",
        source="29 CFR 1910.213(p)(3) and (4), disk enclosed, nip points guarded; the "
        "rest common practice, no source",
    ),
    "dust": Caution(
        text="Wood dust harms the lungs: extraction on, and a mask where it is not "
        "enough.",
        source="29 CFR 1910.1000, Table Z-3 (dust limits); the rest common practice, "
        "no source",
    ),
    "hand_tools": Caution(
        text="Hand tools: clamp the part, both hands behind the edge, cut away from "
        "yourself. A dull edge slips.",
        source="common practice, no source",
    ),
    "clamps": Caution(
        text="Glue-up: two people turn a heavy assembly. Mind fingers under clamps "
        "and bars that stick out.",
        source="common practice, no source",
    ),
    "finish": Caution(
        text="Finish: fresh air, gloves, no flame. Oily rags can heat up and burn by "
        "themselves: spread them flat to dry or keep them in a closed metal can.",
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
