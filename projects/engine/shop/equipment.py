"""What is written down of each kind of machine: what it takes, its blades and bits.

A shop's figures come from the machine's manual or plate, or are measured there; see
`WHERE_FROM`. None is supplied here: two machines of one name can differ.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.errors import LengthError
from projects.engine.units import read_length

Unit = Literal["length", "lengths"]
"""One length, or several with commas between them."""

WHERE_FROM = (
    "Take every figure from the machine's own manual or plate, or measure it there; "
    "a blade's kerf from a cut in scrap. Where the manual allows less, it counts."
)
MOST_LENGTHS = 60
MOST_CHARACTERS = 400


@dataclass(frozen=True, kw_only=True)
class Measure:
    """Describe one thing written down of a machine; `meaning` says what it is.

    Its value is kept as typed under `key`; `read_lengths` reads it.
    """

    key: str
    label: str
    meaning: str
    unit: Unit = "length"


SHORTEST = Measure(
    key="shortest",
    label="Shortest part",
    meaning="along the grain; a shorter one is worked another way",
)
NARROWEST = Measure(
    key="narrowest", label="Narrowest part", meaning="a narrower one keeps hands near"
)
THINNEST = Measure(
    key="thinnest", label="Thinnest part", meaning="a thinner one can break up"
)
_SMALLEST = (SHORTEST, NARROWEST, THINNEST)
BLADE = Measure(
    key="blade_diameter", label="Blade diameter", meaning="of the blade on it"
)
KERF = Measure(
    key="kerf", label="Kerf", meaning="how wide its blade cuts, measured in scrap"
)
DEPTH = Measure(
    key="deepest_cut", label="Deepest cut", meaning="with the blade square and all up"
)
BITS = Measure(
    key="bits",
    label="Bits",
    meaning="the diameters the shop has",
    unit="lengths",
)
COLLETS = Measure(
    key="collets", label="Collets", meaning="the shank sizes it holds", unit="lengths"
)
DADO_BLADES = Measure(
    key="dado_blades",
    label="Dado set: outer blades",
    meaning="the kerf of each, so usually two lengths",
    unit="lengths",
)
DADO_CHIPPERS = Measure(
    key="dado_chippers",
    label="Dado set: chippers",
    meaning="the thickness of each piece, one as often as there are of it",
    unit="lengths",
)
DADO_SHIMS = Measure(
    key="dado_shims",
    label="Dado set: shims",
    meaning="the thickness of each piece, one as often as there are of it",
    unit="lengths",
)
DADO_WIDEST = Measure(
    key="dado_widest",
    label="Dado set: widest stack",
    meaning="that the arbor takes with its nut full on",
)

EQUIPMENT: dict[str, tuple[Measure, ...]] = {
    "jointer": (
        *_SMALLEST,
        Measure(key="widest", label="Widest board", meaning="as long as its knives"),
        Measure(
            key="deepest_cut",
            label="Deepest cut",
            meaning="of one pass in this shop",
        ),
    ),
    "planer": (
        *_SMALLEST,
        Measure(key="widest", label="Widest board", meaning="between its sides"),
        Measure(key="thickest", label="Thickest board", meaning="under its cutters"),
        Measure(
            key="deepest_cut",
            label="Deepest cut",
            meaning="of one pass in this shop",
        ),
    ),
    "table_saw": (
        *_SMALLEST,
        BLADE,
        KERF,
        DEPTH,
        Measure(key="widest_rip", label="Widest rip", meaning="from blade to fence"),
        DADO_BLADES,
        DADO_CHIPPERS,
        DADO_SHIMS,
        DADO_WIDEST,
    ),
    "mitre_saw": (
        Measure(
            key="shortest",
            label="Shortest part",
            meaning="that can be held well away from the blade",
        ),
        BLADE,
        KERF,
        Measure(
            key="widest_crosscut",
            label="Widest crosscut",
            meaning="with the saw square",
        ),
        Measure(key="thickest", label="Thickest part", meaning="with the saw square"),
    ),
    "band_saw": (
        SHORTEST,
        Measure(key="throat", label="Throat", meaning="from the blade to the column"),
        Measure(key="thickest", label="Thickest part", meaning="under the upper guide"),
        Measure(
            key="blade_widths",
            label="Blades",
            meaning="the widths the shop has; a narrow one turns tighter",
            unit="lengths",
        ),
        KERF,
    ),
    "router": (COLLETS, BITS),
    "router_table": (*_SMALLEST, COLLETS, BITS),
    "drill_press": (
        Measure(key="throat", label="Throat", meaning="from the bit to the column"),
        Measure(key="stroke", label="Stroke", meaning="how deep it drills at once"),
        Measure(key="chuck", label="Chuck", meaning="the largest shank it holds"),
        BITS,
    ),
    "mortiser": (
        Measure(
            key="chisels",
            label="Chisels",
            meaning="the widths the shop has",
            unit="lengths",
        ),
        Measure(key="stroke", label="Stroke", meaning="how deep it cuts at once"),
        Measure(key="thickest", label="Thickest part", meaning="under the chisel"),
    ),
    "sander": (
        SHORTEST,
        THINNEST,
        Measure(key="disk_diameter", label="Disk diameter", meaning="where it has one"),
        Measure(key="widest", label="Belt or drum width", meaning="where it has one"),
    ),
    "hand_tools": (
        Measure(
            key="chisels",
            label="Chisels",
            meaning="the widths the shop has",
            unit="lengths",
        ),
        Measure(key="saw_kerf", label="Saw kerf", meaning="how wide the backsaws cut"),
    ),
}
"""By the key of `shop.machines.MACHINES`, the bench left out."""

DUSTY = frozenset(
    {
        "jointer",
        "planer",
        "table_saw",
        "mitre_saw",
        "band_saw",
        "router",
        "router_table",
        "sander",
    }
)
"""The kinds whose poster reminds of dust. Source: common practice, no source."""


def read_lengths(text: str, *, field: str = "lengths") -> tuple[Fraction, ...]:
    """Return the lengths [mm] that `text` lists, in its order, with commas between.

    A length without a unit is in inches, unless only the last one has a unit: then
    that is meant for all. `field` names the place in the error. Raises `LengthError`
    for one that can't be read, for a list in which some but not only the last have a
    unit, and for more than 60.

    >>> read_lengths("1/8, 1/8, 1/16")
    (Fraction(127, 40), Fraction(127, 40), Fraction(127, 80))
    >>> read_lengths("3, 3, 1.5 mm")
    (Fraction(3, 1), Fraction(3, 1), Fraction(3, 2))
    """
    each = [one.strip() for one in text.replace(";", ",").split(",")]
    if len(each) > MOST_LENGTHS:
        raise LengthError(
            "{field}: at most {most} lengths (read: {count})",
            field=field,
            most=MOST_LENGTHS,
            count=len(each),
        )
    last = read_length(each[-1], field=field)
    bare = [_is_bare(one) for one in each]
    if all(bare[:-1]) and not bare[-1]:
        return tuple(read_length(one, unit=last.unit, field=field).mm for one in each)
    if any(bare) and not all(bare):
        raise LengthError(
            "{field}: give each length its unit, or only the last (read: {read!r})",
            field=field,
            read=text[:80],
        )
    return tuple(read_length(one, field=field).mm for one in each)


def _is_bare(text: str) -> bool:
    """Tell whether a length was typed without a unit: it could still take one."""
    try:
        read_length(f"{text} mm")
    except LengthError:
        return False
    return True


def with_unit(text: str) -> str:
    """Return what was typed with the unit it is read in, where it has none.

    `text` is a length or a list of them that can be read.

    >>> with_unit("1/8, 1/16"), with_unit("3, 1.5 mm")
    ('1/8, 1/16 in', '3, 1.5 mm')
    """
    last = text.replace(";", ",").rsplit(",", 1)[-1].strip()
    return f"{text} in" if _is_bare(last) else text


def read_measure(measure: Measure, text: str) -> tuple[Fraction, ...]:
    """Return what was typed for a measure as lengths [mm]: one, or those of a list.

    Raises `LengthError` where it can't be read.
    """
    if measure.unit == "lengths":
        return read_lengths(text, field=measure.label)
    return (read_length(text, field=measure.label).mm,)


def read_equipment(
    kind: str, typed: Mapping[str, str]
) -> dict[str, tuple[Fraction, ...]]:
    """Return what a machine of `kind` takes, by the keys of its measures [mm].

    What was left empty is left out. Raises `LengthError` where something can't be
    read.
    """
    return {
        measure.key: read_measure(measure, typed[measure.key])
        for measure in EQUIPMENT.get(kind, ())
        if typed.get(measure.key)
    }
