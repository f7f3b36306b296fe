"""What the two checks of wood movement share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.checks.look import Look, other_end
from projects.engine.checks.records import (
    Finding,
    at_part,
    at_stock,
    finding_key,
    words,
)
from projects.engine.plan.records import Axis, Joint, Part
from projects.engine.units import exact_number
from projects.engine.wood import dimensional_change_mm
from projects.engine.wood.species import movements

GLUED = ("dado", "rabbet", "tenon", "half_lap", "dowel", "butt")
"""The kinds of joint that hold; a groove leaves its guest free to move."""

NAMED = (
    "The plan gives its species as “{species}”; name one that the table of movement "
    "has, such as red oak or yellow-poplar."
)
UNNAMED = (
    "The plan gives no species; name one that the table of movement has, such as red "
    "oak or yellow-poplar."
)


@dataclass(frozen=True, kw_only=True)
class Swell:
    """Hold how much a part swells [mm], and where its figure comes from.

    `source` is None where the species isn't known; `mm` is then the most that any
    species in the table would.
    """

    mm: Fraction
    source: str | None


def swell(look: Look, part: Part, *, width_mm: Fraction) -> Swell:
    """Return how much `width_mm` [mm] across the grain of a solid part can swell.

    How a board was sawn isn't known, so it is taken as flatsawn, which moves most.
    """
    species = look.species(part)
    known = species.movement if species else None
    most = max(of.tangential for of in movements().values())
    mm = dimensional_change_mm(
        width_mm=width_mm,
        coefficient=known.tangential if known else most,
        from_pct=look.shop.low_pct.value,
        to_pct=look.shop.high_pct.value,
    )
    return Swell(mm=Fraction(mm), source=known.source if known else None)


def swing(look: Look) -> str:
    """Return the moisture swing as it is said: `8 to 12 %`."""
    low, high = look.shop.low_pct.value, look.shop.high_pct.value
    return f"{exact_number(low)} to {exact_number(high)} %"


def swing_source(look: Look, figure: str) -> str:
    """Return where a movement comes from: equation, figure and moisture swing."""
    return (
        f"Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2; {figure}; moisture swing: "
        f"{look.shop.low_pct.source}"
    )


def moves(look: Look, part: Part, axis: Axis) -> bool:
    """Say whether a part's width, across the grain of solid wood, lies on an axis."""
    return look.is_solid(part) and part.dimension_on(axis) == "width"


def keeps(look: Look, part: Part, axis: Axis) -> bool:
    """Say whether a part hardly moves on an axis: along the grain, or a sheet."""
    dimension = part.dimension_on(axis)
    return dimension == "length" or (
        not look.is_solid(part) and dimension != "thickness"
    )


@dataclass(frozen=True, kw_only=True)
class Trapped:
    """Hold a part whose two long edges sit in joints, and what keeps them apart."""

    part: Part
    axis: Axis
    low: Joint
    high: Joint
    keeper: Part


def trapped(look: Look) -> Iterator[Trapped]:
    """Yield each solid part held at both edges of its width by two other parts.

    They can't give way where a third part, which doesn't move, joins the two: it is
    the `keeper`.
    """
    for part in look.plan.parts:
        if not look.is_solid(part):
            continue
        axis = part.axes["width"]
        low_face, high_face = part.faces_on(axis)
        for low in look.joints_at[low_face]:
            for high in look.joints_at[high_face]:
                keeper = _keeper(look, part, low, high, axis)
                if keeper is not None:
                    yield Trapped(
                        part=part, axis=axis, low=low, high=high, keeper=keeper
                    )


def _keeper(look: Look, part: Part, low: Joint, high: Joint, axis: Axis) -> Part | None:
    one, other = other_end(low, part).part, other_end(high, part).part
    shared = look.neighbours[one].keys() & look.neighbours[other].keys()
    for between in look.plan.parts:
        if between.key not in shared - {part.key, one, other}:
            continue
        # it must reach from one to the other, not just touch both on the way
        joined = {
            face: {other_end(joint, between).part for joint in look.joints_at[face]}
            for face in between.faces_on(axis)
        }
        low_parts, high_parts = joined.values()
        if one in low_parts and other in high_parts and keeps(look, between, axis):
            return between
    return None


def cannot_tell(look: Look, check: str, part: Part) -> Finding:
    """Return that the movement of a part can't be told, once for its stock."""
    stock = look.stock(part)
    return Finding(
        check=check,
        key=finding_key(check, [at_stock(stock)]),
        level="unknown",
        what=words(
            "{stock}: nothing here says how much it moves, so whether {part} has room "
            "to move can't be told",
            stock=stock.name,
            part=part.name,
        ),
        why=words(NAMED if stock.species else UNNAMED, species=stock.species),
        source="Wood Handbook, FPL-GTR-190 (2010), Table 13-5",
        where=(at_stock(stock), at_part(part)),
    )
