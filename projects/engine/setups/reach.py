"""What of a setting is more than its machine takes, said as facts.

The limits are those written down of the machine; see `shop.equipment`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from projects.engine.fit.solve import Solution
from projects.engine.plan.records import FACES, Dimension
from projects.engine.setups.setting_records import Setting
from projects.engine.setups.words import Words

Has = Mapping[str, tuple[Fraction, ...]]
_STANDS = {
    ("band_saw", "fence"): (
        "throat",
        "This band saw's throat is {most}; the fence would stand at {got}.",
    ),
    ("band_saw", "stop"): (
        "throat",
        "This band saw's throat is {most}; the stop would stand at {got}.",
    ),
    ("table_saw", "fence"): (
        "widest_rip",
        "This table saw's widest rip is {most}; the fence would stand at {got}.",
    ),
    ("drill_press", "fence"): (
        "throat",
        "This drill press's throat is {most}; the fence would stand at {got}.",
    ),
}
"""By machine and what the part lies against: the limit of how far that stands."""
_DEEP = {
    "table_saw": (
        "deepest_cut",
        "This table saw cuts {most} deep; the blade would stand {got} high.",
    ),
    "planer": (
        "thickest",
        "This planer takes boards {most} thick; this one comes out {got} thick.",
    ),
    "drill_press": (
        "stroke",
        "This drill press drills {most} at once; this goes {got} deep.",
    ),
    "mortiser": (
        "stroke",
        "This mortiser cuts {most} at once; this goes {got} deep.",
    ),
}
"""By machine: the limit of a height or depth."""
_THROUGH: Mapping[str, tuple[tuple[str, Dimension, str], ...]] = {
    "table_saw": (
        (
            "deepest_cut",
            "thickness",
            "This table saw cuts {most} deep; {part} is {got} thick.",
        ),
    ),
    "mitre_saw": (
        (
            "widest_crosscut",
            "width",
            "This mitre saw's widest crosscut is {most}; {part} is {got} wide.",
        ),
        (
            "thickest",
            "thickness",
            "This mitre saw takes parts {most} thick; {part} is {got} thick.",
        ),
    ),
    "band_saw": (
        (
            "thickest",
            "thickness",
            "This band saw takes parts {most} thick; {part} is {got} thick.",
        ),
    ),
    "planer": (
        (
            "widest",
            "width",
            "This planer takes boards {most} wide; {part} is {got} wide.",
        ),
    ),
}
"""By machine: the limits of a part that it cuts to size."""
_UNDER_CHISEL = "This mortiser takes parts {most} thick; {part} lies {got} high."


def beyond(solution: Solution, setting: Setting, has: Has) -> tuple[Words, ...]:
    """Return what of a setting is more than its machine takes, each a sentence.

    `has` is what is written down of the machine [mm], as `read_equipment` gives it;
    what isn't limits nothing.
    """
    return tuple(_beyond(solution, setting, has))


def _beyond(solution: Solution, setting: Setting, has: Has) -> Iterator[Words]:
    machine = setting.machine
    stands = _STANDS.get((machine, setting.rest))
    if stands:
        yield from _more(stands[1], has, stands[0], setting.stop_mm)
    deep = _DEEP.get(machine)
    if deep:
        yield from _more(deep[1], has, deep[0], setting.height_mm)
    parts = dict.fromkeys(piece.part for piece in setting.pieces)
    names = {key: solution.plan.part_by_key[key].name for key in parts}
    if setting.kind in ("rip", "crosscut", "thickness"):
        for key, dimension, template in _THROUGH.get(machine, ()):
            for cut, name in names.items():
                got_mm = solution.sizes[cut, dimension]
                yield from _more(template, has, key, got_mm, part=name)
    if machine == "mortiser":
        for piece in setting.pieces:
            part = solution.plan.part_by_key[piece.part]
            for face in piece.worked[:1]:
                dimension = part.dimension_on(FACES[face][0])
                got_mm = solution.sizes[part.key, dimension]
                yield from _more(_UNDER_CHISEL, has, "thickest", got_mm, part=part.name)


def _more(
    template: str, has: Has, limit: str, got_mm: Fraction | None, *, part: str = ""
) -> Iterator[Words]:
    """Give the sentence where a number is more than a limit that is written down."""
    most_mm = next(iter(has.get(limit, ())), None)
    if most_mm is not None and got_mm is not None and got_mm > most_mm:
        yield Words(
            template=template,
            lengths_mm={"most": most_mm, "got": got_mm},
            names={"part": part},
        )
