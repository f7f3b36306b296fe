"""Find a species by what people call it, with its figures where a table has them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from projects.engine.wood.table import cited, read_table


@dataclass(frozen=True, kw_only=True)
class Movement:
    """Hold how much a species moves across its grain.

    `radial` and `tangential` are the change of a size, as a share of it, for each
    1 % of moisture [1/%].
    """

    radial: Fraction
    tangential: Fraction
    source: str


@dataclass(frozen=True, kw_only=True)
class Stiffness:
    """Hold how stiff a species is along its grain at 12 % moisture.

    `moe_mpa` is the modulus of elasticity [MPa], `specific_gravity` [-].
    """

    moe_mpa: Fraction
    specific_gravity: Fraction
    source: str


@dataclass(frozen=True, kw_only=True)
class Species:
    """Name a species; a figure is None where no table here has it.

    `note` says where one name stands for several species.
    """

    name: str
    movement: Movement | None
    stiffness: Stiffness | None
    note: str


def find_species(text: str) -> Species | None:
    """Return the species `text` names, or None where that is not known.

    Case, hyphens, spaces and the order round a comma don't matter. A name that
    covers woods which differ, such as `pine` or `maple`, is not known.

    Parameters
    ----------
    text : str
        What a plan calls it.

    Examples
    --------
    >>> find_species("Poplar, tulip").name
    'yellow-poplar'
    >>> find_species("maple") is None
    True

    Notes
    -----
    **Source**: the names are the trade's (common practice, no source); each figure
    cites its own.
    """
    return _by_name().get(_letters(text))


@cache
def movements() -> dict[str, Movement]:
    """Return the table of movement, by the species as it names them.

    **Source**: Wood Handbook, FPL-GTR-190 (2010), Table 13-5; status in each row.
    """
    return {
        row["species"]: Movement(
            radial=Fraction(row["c_radial"]),
            tangential=Fraction(row["c_tangential"]),
            source=cited(row),
        )
        for row in read_table("movement")
    }


@cache
def stiffnesses() -> dict[str, Stiffness]:
    """Return the table of stiffness, by the species as it names them.

    **Source**: Wood Handbook, FPL-GTR-190 (2010), Table 5-3a; status in each row.
    """
    return {
        row["species"]: Stiffness(
            moe_mpa=Fraction(row["moe_mpa"]),
            specific_gravity=Fraction(row["specific_gravity"]),
            source=cited(row),
        )
        for row in read_table("stiffness")
    }


@cache
def _by_name() -> dict[str, Species]:
    found: dict[str, Species] = {}
    for row in read_table("species"):
        species = Species(
            name=row["name"],
            movement=movements()[row["movement"]] if row["movement"] else None,
            stiffness=stiffnesses()[row["stiffness"]] if row["stiffness"] else None,
            note=row["note"],
        )
        tables = (row["movement"], row["stiffness"])
        names = (row["name"], *tables, *row["also"].split(";"))
        for name in filter(None, map(_letters, names)):
            # a row's own name counts for more than a table's name for it
            if name == _letters(row["name"]) or name not in found:
                found[name] = species
    return found


def _letters(name: str) -> str:
    """Return the letters of a name, the part behind a comma put first."""
    plain = re.sub(r"\(.*?\)", "", name.casefold())
    wood, _, which = plain.partition(",")
    return re.sub(r"[^a-z]", "", which + wood)
