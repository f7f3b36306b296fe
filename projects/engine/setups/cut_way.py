"""What cuts a rabbet, a lap or a mortise of what a shop has, and why not otherwise.

Source of the ways and of their order: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Literal

from projects.engine.setups.dado_set import DadoSet, Stack, StackChoice, stack_for
from projects.engine.setups.setting_records import Kind, Side
from projects.engine.setups.slot_way import (
    MARKED,
    Bits,
    Place,
    SlotWay,
    Way,
    WayKind,
    last_pass,
    levels,
    slot_way,
)
from projects.engine.setups.words import Words

ZERO = Fraction(0)
Tool = Literal["stack", "blade", "bit"]
_TOOL: dict[Tool, str] = {
    "stack": "Stack both outer blades, chippers: {chippers}; it cuts {tool}.",
    "blade": "The blade cuts {tool}.",
    "bit": "Bit of {tool}; levels: {levels}.",
}
_OPEN_KINDS: dict[Tool, tuple[WayKind, WayKind]] = {
    "stack": ("stack", "stack"),
    "blade": ("blade_passes", "blade_passes"),
    "bit": ("bit", "bit_passes"),
}


@dataclass(frozen=True, kw_only=True)
class Tools:
    """Hold what a machine has to cut with [mm]; None or empty where nobody wrote it."""

    dado: DadoSet | None = None
    kerf_mm: Fraction | None = None
    bits_mm: tuple[Fraction, ...] = ()
    chisels_mm: tuple[Fraction, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Cut:
    """Hold a cut that is wanted [mm], and how much narrower or wider it may get.

    `side` is the side of the tool that `place` is measured to: the far one where the
    cut runs out at the stop or fence.
    """

    kind: Kind
    width_mm: Fraction
    depth_mm: Fraction
    under_mm: Fraction = ZERO
    over_mm: Fraction = ZERO
    side: Side = "near"
    place: Place = MARKED


@dataclass(frozen=True, kw_only=True)
class _Had:
    """Hold one tool of those had: how wide it cuts [mm]."""

    kind: Tool
    mm: Fraction
    stack: Stack | None = None


def cut_way(cut: Cut, machine: str, tools: Tools) -> SlotWay | None:
    """Return how to cut it at a machine; None where there is nothing to choose."""
    if cut.kind in ("slot", "groove") or (cut.kind, machine) == ("mortise", "router"):
        if machine not in ("table_saw", "router", "router_table"):
            return None
        return slot_way(
            machine=machine,
            width_mm=cut.width_mm,
            depth_mm=cut.depth_mm,
            under_mm=cut.under_mm,
            over_mm=cut.over_mm,
            dado=tools.dado,
            bits=Bits(diameters_mm=tools.bits_mm),
            kerf_mm=tools.kerf_mm,
            place=cut.place,
        )
    if cut.kind == "mortise":
        return _mortise(cut, machine, tools)
    if cut.kind not in ("rabbet", "lap"):
        return None
    if machine == "table_saw":
        ways = [_stacked(cut, tools.dado), _bladed(cut, tools.kerf_mm)]
    elif machine in ("router", "router_table"):
        ways = [_with_bit(cut, machine, tools.bits_mm)]
    else:
        return None
    best = next((way for way in ways if way.serves), None)
    return SlotWay(way=best, others=tuple(way for way in ways if way is not best))


def _stacked(cut: Cut, dado: DadoSet | None) -> Way:
    if dado is None:
        return Way(kind="stack", words=(Words(template="The shop has no dado set."),))
    # nothing is fitted to what the stack cuts, so it needs no shims
    plain = replace(dado, shims_mm=())
    choice = stack_for(plain, width_mm=cut.width_mm, under_mm=ZERO, over_mm=ZERO)
    wider = choice.above if _may_go_past(cut) else None
    stack = choice.stack or wider or choice.below
    if stack is None:
        words = Words(
            template="The narrowest stack, {tool}, is wider than the cut.",
            lengths_mm={"tool": plain.least_mm},
        )
        return Way(kind="stack", words=(words,))
    had = _Had(kind="stack", mm=stack.width_mm, stack=stack)
    way = _cut_with(cut, had, machine="table_saw")
    return replace(way, stack=StackChoice(wanted_mm=cut.width_mm, stack=stack))


def _bladed(cut: Cut, kerf_mm: Fraction | None) -> Way:
    if kerf_mm is None:
        words = Words(template="Nobody wrote down how wide the blade cuts.")
        return Way(kind="blade_passes", words=(words,))
    return _cut_with(cut, _Had(kind="blade", mm=kerf_mm), machine="table_saw")


def _with_bit(cut: Cut, machine: str, bits_mm: tuple[Fraction, ...]) -> Way:
    wider = [mm for mm in bits_mm if mm >= cut.width_mm] if _may_go_past(cut) else []
    narrower = [mm for mm in bits_mm if mm <= cut.width_mm]
    if not wider and not narrower:
        words = Words(template="The shop has no bit for it.")
        return Way(kind="bit", words=(words,))
    bit_mm = min(wider) if wider else max(narrower)
    return _cut_with(cut, _Had(kind="bit", mm=bit_mm), machine=machine)


def _may_go_past(cut: Cut) -> bool:
    """Return whether the tool may be wider than the cut: over the part's edge."""
    return cut.side == "far" and cut.place.by != "stop"


def _cut_with(cut: Cut, had: _Had, *, machine: str) -> Way:
    """Return the way of cutting with one tool, in as many passes as it takes."""
    past_mm = had.mm - cut.width_mm
    if past_mm > 0 and cut.side != "far":
        words = Words(
            template="The blade cuts {kerf}, wider than the cut.",
            lengths_mm={"kerf": had.mm},
        )
        return Way(kind="blade_passes", words=(words,), tool_mm=had.mm)
    passes = max(ceil(cut.width_mm / had.mm), 1)
    deep = levels(cut.depth_mm, had.mm) if had.kind == "bit" else 1
    said = [_named(had, deep)]
    if passes > 1:
        names = {"passes": str(passes)}
        said.append(Words(template="Passes side by side: {passes}.", names=names))
    said += _placed(cut, had, machine) if cut.side == "far" else _between(cut, had)
    return Way(
        kind=_OPEN_KINDS[had.kind][passes > 1],
        words=tuple(said),
        width_mm=cut.width_mm,
        tool_mm=had.mm,
        move_mm=max(-past_mm, ZERO) * (-1 if cut.side == "far" else 1),
        passes=passes,
        levels=deep,
    )


def _named(had: _Had, deep: int) -> Words:
    chippers = str(len(had.stack.chippers_mm)) if had.stack else ""
    return Words(
        template=_TOOL[had.kind],
        lengths_mm={"tool": had.mm},
        names={"chippers": chippers, "levels": str(deep)},
    )


def _between(cut: Cut, had: _Had) -> Iterator[Words]:
    if cut.width_mm > had.mm:
        yield last_pass(cut.place, cut.width_mm - had.mm)


def _placed(cut: Cut, had: _Had, machine: str) -> Iterator[Words]:
    """Give where what the cut runs out at stands, and what the tool does to it."""
    past_mm, by = had.mm - cut.width_mm, cut.place.by
    if by == "mark":
        template = "The first pass is along the edge, the last reaches the mark."
        if past_mm >= 0:
            template = "One pass reaches the mark, and out over the edge."
        yield Words(template=template)
    elif by == "stop":
        if past_mm < 0:
            yield Words(
                template="The pass at the stop makes the wall; for each pass after "
                "it the part lies farther from the stop, which stays."
            )
        elif past_mm > 0:
            yield _into(past_mm, "{past} of that would go into the stop: clamp a "
                        "sacrificial block there.")  # fmt: skip
    elif machine == "router_table":
        yield from _fence_of_table(cut, had, past_mm)
    else:
        if past_mm < 0:
            yield last_pass(cut.place, past_mm)
            template = "For the last pass it touches the fence: put a sacrificial "
            yield Words(template=template + "fence on first.")
        elif past_mm == 0:
            yield Words(
                template="It touches the fence: put a sacrificial fence on first."
            )
        else:
            yield _into(past_mm, "{past} of that would go into the fence: put a "
                        "sacrificial fence on first.")  # fmt: skip


def _fence_of_table(cut: Cut, had: _Had, past_mm: Fraction) -> Iterator[Words]:
    if past_mm < 0:
        yield last_pass(cut.place, past_mm)
    elif past_mm > 0:
        yield _into(past_mm, "{past} of it stands inside the fence's opening.")


def _into(past_mm: Fraction, template: str) -> Words:
    return Words(template=template, lengths_mm={"past": past_mm})


_MORTISED = {
    "mortiser": ("The shop has no chisel of {width}.", "Chisel of {tool}."),
    "hand_tools": ("The shop has no chisel of {width}.", "Chisel of {tool}."),
    "drill_press": (
        "The shop has no bit of {width}.",
        "Bit of {tool}: a row of holes, then a chisel to the marks.",
    ),
}
_ROWS = {
    "mortiser": "With the next narrower chisel, {tool}, rows side by side: {passes}.",
    "hand_tools": "With the next narrower chisel, {tool}, pare the walls to the marks.",
    "drill_press": "With the next narrower bit, {tool}, rows side by side: {passes}; "
    "then a chisel to the marks.",
}
_WIDER = {
    "mortiser": "The next wider chisel is {tool}: a mortise {more} wider.",
    "hand_tools": "The next wider chisel is {tool}: a mortise {more} wider.",
    "drill_press": "The next wider bit is {tool}: a mortise {more} wider.",
}


def _mortise(cut: Cut, machine: str, tools: Tools) -> SlotWay | None:
    if machine not in _MORTISED:
        return None
    kind: WayKind = "bit" if machine == "drill_press" else "chisel"
    had_mm = tools.bits_mm if kind == "bit" else tools.chisels_mm
    off = {mm: mm - cut.width_mm for mm in had_mm}
    fit = [mm for mm in had_mm if -cut.under_mm <= off[mm] <= cut.over_mm]
    none, one = _MORTISED[machine]
    if fit:
        tool_mm = min(fit, key=lambda mm: abs(off[mm]))
        said = Words(template=one, lengths_mm={"tool": tool_mm})
        way = Way(kind=kind, words=(said,), width_mm=tool_mm, tool_mm=tool_mm)
        return SlotWay(way=way, others=())
    words = [Words(template=none, lengths_mm={"width": cut.width_mm})]
    below_mm = max((mm for mm in had_mm if mm < cut.width_mm), default=None)
    above_mm = min((mm for mm in had_mm if mm > cut.width_mm), default=None)
    passes = ceil(cut.width_mm / below_mm) if below_mm else 1
    if below_mm:
        lengths, names = {"tool": below_mm}, {"passes": str(passes)}
        words.append(Words(template=_ROWS[machine], lengths_mm=lengths, names=names))
        if machine != "hand_tools":
            words.append(last_pass(cut.place, cut.width_mm - below_mm))
    if above_mm:
        lengths = {"tool": above_mm, "more": off[above_mm]}
        words.append(Words(template=_WIDER[machine], lengths_mm=lengths))
    if below_mm is None:
        return SlotWay(way=None, others=(Way(kind=kind, words=tuple(words)),))
    way = Way(
        kind=kind,
        words=tuple(words),
        width_mm=cut.width_mm,
        tool_mm=below_mm,
        move_mm=cut.width_mm - below_mm,
        passes=passes,
    )
    return SlotWay(way=way, others=())
