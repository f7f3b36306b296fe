"""What cuts a setting of what a machine has, and what is more than it takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache, partial

from django.utils.translation import gettext

from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution
from projects.engine.setups.cut_way import Cut, Tools, cut_way
from projects.engine.setups.dado_set import DadoSet, Stack
from projects.engine.setups.reach import beyond
from projects.engine.setups.setting_records import Name, Setting
from projects.engine.setups.setting_words import by_marks
from projects.engine.setups.slot_way import By, Place, Way
from projects.engine.units import decimal_text, exact_text, mm_per
from projects.machine_has import machine_has
from projects.models import Machine
from projects.present.drawings import length_text
from projects.showing import Showing

_ways = lru_cache(maxsize=512)(cut_way)
Room = tuple[Fraction, Fraction]
"""How much narrower and how much wider a cut may get [mm]."""


@dataclass(frozen=True, kw_only=True)
class WayLines:
    """How a cut's width is cut; `serves` is False where nothing here reaches it.

    `pieces` lists a stack; `others` says why no other way was taken.
    """

    serves: bool
    lines: tuple[str, ...]
    pieces: tuple[tuple[str, str], ...] = ()
    others: tuple[str, ...] = ()


def tool_lines(
    machine: Machine,
    setting: Setting,
    at: Mapping[Name, Fraction],
    room: Room,
    showing: Showing,
) -> WayLines | None:
    """Return what to cut it with; None where there is nothing to choose.

    `at` are the numbers to set [mm].
    """
    cut = _cut(setting, at, room)
    tools = _tools(machine)
    if cut is None or (tools == Tools() and cut.kind not in ("slot", "groove")):
        return None
    found = _ways(cut, machine.kind, tools)
    if found is None:
        return None
    show = partial(exactly, showing=showing)
    others = tuple(
        words.text(show=show, say=gettext)
        for way in found.others
        for words in way.words
    )
    if found.way is None:
        return WayLines(serves=False, lines=others)
    return WayLines(
        serves=True,
        lines=tuple(w.text(show=show, say=gettext) for w in found.way.words),
        pieces=_pieces(found.way, showing),
        others=others,
    )


def beyond_lines(
    machine: Machine, solution: Solution, setting: Setting, showing: Showing
) -> tuple[str, ...]:
    """Return what of a setting is more than the machine takes, each a sentence."""
    show = partial(with_unit, showing=showing)
    return tuple(
        words.text(show=show, say=gettext)
        for words in beyond(solution, setting, machine_has(machine))
    )


def with_unit(mm: Fraction, *, showing: Showing) -> str:
    """Return a length in words with its unit, which a tape's marks leave out."""
    text = length_text(mm, showing)
    if showing.style != "tape":
        return text
    word = showing.of(mm).word
    number = text.removesuffix(word).rstrip()
    return f"{number} in {word}".rstrip()


def has_tools(machine: Machine) -> bool:
    """Tell whether anything to cut with is written down of a machine."""
    return _tools(machine) != Tools()


def _tools(machine: Machine) -> Tools:
    has = machine_has(machine)
    try:
        return Tools(
            dado=_dado(has),
            kerf_mm=has.get("kerf", (None,))[0],
            bits_mm=has.get("bits", ()),
            chisels_mm=has.get("chisels", ()),
        )
    except EngineError:
        return Tools()


def _dado(has: Mapping[str, tuple[Fraction, ...]]) -> DadoSet | None:
    if "dado_blades" not in has:
        return None
    return DadoSet(
        outer_mm=has["dado_blades"],
        chippers_mm=has.get("dado_chippers", ()),
        shims_mm=has.get("dado_shims", ()),
        widest_mm=has.get("dado_widest", (None,))[0],
    )


def _cut(setting: Setting, at: Mapping[Name, Fraction], room: Room) -> Cut | None:
    stop_mm, width_mm = at.get("stop"), at.get("width")
    if width_mm is None and setting.side == "far":
        # the cut runs out there, so the stop alone says how wide it gets
        width_mm = stop_mm
    if width_mm is None:
        return None
    by: By = "mark"
    if setting.rest != "none" and not by_marks(setting):
        by = "stop" if setting.rest == "stop" else "fence"
    return Cut(
        kind=setting.kind,
        width_mm=width_mm,
        depth_mm=at.get("height", Fraction(0)),
        under_mm=room[0],
        over_mm=room[1],
        side=setting.side,
        place=Place(by=by, stop_mm=stop_mm),
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


def exactly(mm: Fraction, *, showing: Showing) -> str:
    """Return a length in decimals: shims are finer than any tape."""
    if showing.unit == "mm":
        return f"{decimal_text(mm, 2)} mm"
    return f"{decimal_text(mm / mm_per('in'), 3)} in"
