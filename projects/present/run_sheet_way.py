"""What cuts a slot of a run sheet: the stack, the bit or the passes, in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache, partial

from django.utils.translation import gettext

from projects.engine.errors import EngineError
from projects.engine.setups.dado_set import DadoSet, Stack
from projects.engine.setups.grouping import Tolerance
from projects.engine.setups.run_sheet import Setup
from projects.engine.setups.setting_records import Name
from projects.engine.setups.slot_way import AT_ROUTER, AT_SAW, Bits, Way, slot_way
from projects.engine.shop.equipment import read_equipment
from projects.engine.units import decimal_text, exact_text, mm_per
from projects.models import Machine
from projects.showing import Showing

SLOTS = ("slot", "groove")
_ways = lru_cache(maxsize=512)(slot_way)


@dataclass(frozen=True, kw_only=True)
class WayLines:
    """How a slot's width is cut; `serves` is False where nothing here reaches it.

    `pieces` lists a stack; `others` says why no other way was taken.
    """

    serves: bool
    lines: tuple[str, ...]
    pieces: tuple[tuple[str, str], ...] = ()
    others: tuple[str, ...] = ()


def way_lines(
    machine: Machine,
    setup: Setup,
    tolerances: Mapping[Name, Tolerance],
    showing: Showing,
) -> WayLines | None:
    """Return what to cut a setup's slot with; None where there is nothing to choose."""
    width_mm = setup.at.get("width")
    if (
        setup.kind not in SLOTS
        or machine.kind not in (*AT_SAW, *AT_ROUTER)
        or width_mm is None
    ):
        return None
    try:
        has = read_equipment(machine.kind, machine.limits)
        dado = _dado(has)
        bits = Bits(diameters_mm=has["bits"]) if "bits" in has else None
    except EngineError:
        # the machine's own page tells what is wrong with its figures
        has, dado, bits = {}, None, None
    under_mm, over_mm = room(setup, width_mm, tolerances["width"])
    found = _ways(
        machine=machine.kind,
        width_mm=width_mm,
        depth_mm=setup.at.get("height", Fraction(0)),
        under_mm=under_mm,
        over_mm=over_mm,
        dado=dado,
        bits=bits,
        kerf_mm=has.get("kerf", (None,))[0],
    )
    show = partial(_exactly, showing=showing)
    others = tuple(
        words.text(show=show, say=gettext)
        for way in found.others
        for words in way.words
    )
    if found.way is None:
        if len({job.setting.width_mm for job in setup.jobs}) > 1:
            parts = gettext("A smaller tolerance parts them; then each may be reached.")
            others = (*others, parts)
        return WayLines(serves=False, lines=others)
    return WayLines(
        serves=True,
        lines=tuple(w.text(show=show, say=gettext) for w in found.way.words),
        pieces=_pieces(found.way, showing),
        others=others,
    )


def room(
    setup: Setup, width_mm: Fraction, tolerance: Tolerance
) -> tuple[Fraction, Fraction]:
    """Return how much narrower and wider a slot may get [mm] to serve every student."""
    wanted = [mm for job in setup.jobs if (mm := job.setting.width_mm) is not None]
    low = max(mm - tolerance.under_mm for mm in wanted)
    high = min(mm + tolerance.over_mm for mm in wanted)
    return width_mm - low, high - width_mm


def _dado(has: Mapping[str, tuple[Fraction, ...]]) -> DadoSet | None:
    if "dado_blades" not in has:
        return None
    return DadoSet(
        outer_mm=has["dado_blades"],
        chippers_mm=has.get("dado_chippers", ()),
        shims_mm=has.get("dado_shims", ()),
        widest_mm=has.get("dado_widest", (None,))[0],
    )


def _pieces(way: Way, showing: Showing) -> tuple[tuple[str, str], ...]:
    stack: Stack | None = way.stack.stack if way.stack else None
    if stack is None:
        return ()
    every = (
        (gettext("Outer blades"), stack.outer_mm),
        (gettext("Chippers"), stack.chippers_mm),
        (gettext("Shims"), stack.shims_mm),
    )
    return tuple(
        (label, " + ".join(exact_text(mm, unit=showing.unit) for mm in pieces))
        for label, pieces in every
        if pieces
    )


def _exactly(mm: Fraction, *, showing: Showing) -> str:
    """Return a length in decimals: shims are finer than any tape."""
    if showing.unit == "mm":
        return f"{decimal_text(mm, 2)} mm"
    return f"{decimal_text(mm / mm_per('in'), 3)} in"
