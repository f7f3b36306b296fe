"""A shelf that bends more than a share of its span looks wrong, and creeps further.

A shelf here is a flat part with its grain from end to end, joined at both ends. Its
longest span between supports counts, as a beam that rests freely on them. Rails along
it help as far as they are stiff; an upright below it helps where it stands on the
floor. Slots cut across it are left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.checks.limits import N_PER_POUND
from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    at_part,
    finding_key,
    words,
)
from projects.engine.checks.shelves import Shelf, shelves
from projects.engine.plan.records import Part
from projects.engine.units import decimal_text, mm_per
from projects.engine.wood import (
    bending_deflection_mm,
    load_case,
    rectangle_inertia_mm4,
)
from projects.engine.wood.species import stiffnesses

KEY = "shelf_sag"
GRAVITY = Fraction("9.80665")
"""What 1 kg weighs [N].

Source: 3rd General Conference on Weights and Measures (1901); from memory.
"""


@dataclass(frozen=True, kw_only=True)
class Bend:
    """Hold how far a shelf and its rails bend together at most [mm].

    `mm` is None where no figure is known, `sources` are those of the figures and
    `left_out` the parts without one.
    """

    mm: Fraction | None
    sources: tuple[str, ...]
    left_out: tuple[Part, ...]


def _bend(look: Look, shelf: Shelf) -> Bend:
    """Let the parts share the load as springs side by side, not glued together."""
    give = Fraction(0)
    sources: dict[str, None] = {}
    left_out = []
    for part in (shelf.part, *shelf.rails):
        species = look.species(part)
        figure = species.stiffness if species else None
        if figure is None:
            left_out.append(part)
        else:
            note = f"; {species.note}" if species and species.note else ""
            sources[figure.source + note] = None
        moe_mpa = figure.moe_mpa if figure else _least_mpa(look, part)
        if moe_mpa is not None:
            give += 1 / _alone_mm(look, shelf, part, moe_mpa)
    return Bend(
        mm=1 / give if give else None,
        sources=tuple(sources),
        left_out=tuple(left_out),
    )


def _least_mpa(look: Look, part: Part) -> Fraction | None:
    """Return what any solid wood is at least worth [MPa]; for a sheet None."""
    if not look.is_solid(part):
        return None
    return min(of.moe_mpa for of in stiffnesses().values())


def _alone_mm(look: Look, shelf: Shelf, part: Part, moe_mpa: Fraction) -> Fraction:
    """Return how far a part bends that carries the whole load of the shelf [mm]."""
    # a shelf lies flat, a rail stands on edge
    level = part.axes["width" if part.axes["thickness"] == "z" else "thickness"]
    bent = bending_deflection_mm(
        load_n=look.shop.shelf_load_n_per_mm.value * shelf.span_mm,
        span_mm=shelf.span_mm,
        moe_mpa=moe_mpa,
        inertia_mm4=rectangle_inertia_mm4(
            width_mm=look.extent_mm(part, level), depth_mm=look.extent_mm(part, "z")
        ),
        case=load_case(loading="uniform", support="simple"),
    )
    return Fraction(bent)


def _find(look: Look) -> Iterator[Finding]:
    for shelf in shelves(look):
        bend = _bend(look, shelf)
        allowed_mm = look.shop.sag_share.value * shelf.span_mm
        if bend.mm is None or bend.left_out:
            if bend.mm is None or bend.mm > allowed_mm:
                yield _unknown(look, shelf, bend)
        elif bend.mm > allowed_mm:
            yield _warning(look, shelf, bend, bend.mm)


def _unknown(look: Look, shelf: Shelf, bend: Bend) -> Finding:
    here = at_part(shelf.part)
    return Finding(
        check=KEY,
        key=finding_key(KEY, [here]),
        level="unknown",
        what=words(
            "{shelf}: how far it sags over {span} can't be told, for nothing here "
            "says how stiff {left_out} is",
            shelf=shelf.part.name,
            span=look.said(shelf.span_mm),
            left_out=", ".join(part.name for part in bend.left_out),
        ),
        why=words(
            "Try it, or ask who sells it, whether it holds {load} over {span}; "
            "{allowed} of sag is allowed.",
            load=_load(look),
            span=look.said(shelf.span_mm),
            allowed=look.said(look.shop.sag_share.value * shelf.span_mm),
        ),
        source=_source(look, bend),
        where=(here, *map(at_part, shelf.rails)),
        amounts=_amounts(look, shelf),
    )


def _warning(look: Look, shelf: Shelf, bend: Bend, sag_mm: Fraction) -> Finding:
    here = at_part(shelf.part)
    rigid = load_case(loading="uniform", support="clamped")
    held_mm = sag_mm * rigid.k_bending / load_case().k_bending
    return Finding(
        check=KEY,
        key=finding_key(KEY, [here]),
        level="warning",
        what=words(
            "{shelf} sags about {sag} over {span} under {load}, more than {allowed}",
            shelf=shelf.part.name,
            sag=look.said(sag_mm),
            span=look.said(shelf.span_mm),
            load=_load(look),
            allowed=look.said(look.shop.sag_share.value * shelf.span_mm),
        ),
        why=words(
            "Its ends count as resting freely; held rigidly it would be {held}, but a "
            "dado or rabbet holds less than that. Under a lasting load it sags further "
            "with the years. A rail along it, a shorter span or thicker wood helps.",
            held=look.said(held_mm),
        ),
        source=_source(look, bend),
        where=(here, *map(at_part, shelf.rails)),
        amounts=(
            Amount(name="sag, ends resting freely", value=sag_mm),
            Amount(name="sag, ends held rigidly", value=held_mm),
            *_amounts(look, shelf),
        ),
    )


def _amounts(look: Look, shelf: Shelf) -> tuple[Amount, ...]:
    shop = look.shop
    return (
        Amount(name="allowed", value=shop.sag_share.value * shelf.span_mm),
        Amount(name="span", value=shelf.span_mm),
        Amount(name="load", value=shop.shelf_load_n_per_mm.value, unit="N/mm"),
    )


def _source(look: Look, bend: Bend) -> str:
    return "; ".join(
        (
            "Wood Handbook, FPL-GTR-282 (2021), Eq. 9-2 and Table 9-1",
            *bend.sources,
            f"load: {look.shop.shelf_load_n_per_mm.source}",
            f"allowed: {look.shop.sag_share.source}",
        )
    )


def _load(look: Look) -> str:
    """Return the load as it is said: on a foot, or on a metre."""
    per_mm = look.shop.shelf_load_n_per_mm.value
    if look.plan.units == "mm":
        return f"{decimal_text(per_mm * 1000 / GRAVITY, 1)} kg/m"
    pounds = per_mm * mm_per("ft") / N_PER_POUND
    return f"{decimal_text(pounds, 1).removesuffix('.0')} lb/ft"


CHECK = Check(key=KEY, title="Shelves that sag", find=_find)
