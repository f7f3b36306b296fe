"""The numbers of a setup: what each is called, from where, and whether it stays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from django.utils.translation import gettext

from projects.engine.plan.records import FaceName
from projects.engine.setups.run_sheet import Setup
from projects.engine.setups.setting_records import (
    SHORTS,
    Name,
    Piece,
    PieceEnd,
    Setting,
)
from projects.engine.setups.setting_words import TOOLS, by_marks
from projects.engine.units import Shown
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class NumberLine:
    """One number to set; `note` says from where, `stays` that it is set already.

    `exactly` is its value in decimals where a tape shows it between two marks.
    """

    name: Name
    label: str
    shown: Shown
    note: str
    exactly: str
    stays: bool


def as_set(setting: Setting, setup: Setup) -> Setting:
    """Return a student's setting with the numbers of the setup it is cut at."""
    least = _least_ends(setup)

    def piece(one: Piece) -> Piece:
        stopped = sorted((e for e in one.ends if not e.at_least), key=lambda e: e.mm)
        edges = (end.edge for end in stopped)
        moved = {e: setup.at.get(n) for e, n in zip(edges, SHORTS, strict=False)}
        moved |= {e.edge: least[_end_key(one, e)] for e in one.ends if e.at_least}
        ends = (replace(end, mm=moved.get(end.edge) or end.mm) for end in one.ends)
        return replace(one, ends=tuple(ends))

    return replace(
        setting,
        quantities=tuple(
            replace(q, mm=setup.at.get(q.name, q.mm)) for q in setting.quantities
        ),
        pieces=tuple(piece(one) for one in setting.pieces),
    )


def _least_ends(setup: Setup) -> dict[tuple[str, str, FaceName], Fraction]:
    """Return how far short each cut may end that may as well run on [mm].

    There is nothing to set, so the least of those it serves is told for all.
    """
    least: dict[tuple[str, str, FaceName], Fraction] = {}
    for job in setup.jobs:
        for piece in job.setting.pieces:
            for end in piece.ends:
                if end.at_least:
                    key = _end_key(piece, end)
                    least[key] = min(least.get(key, end.mm), end.mm)
    return least


def _end_key(piece: Piece, end: PieceEnd) -> tuple[str, str, FaceName]:
    return piece.part, piece.joint, end.edge


def number_lines(
    setup: Setup,
    setting: Setting,
    before: Setup | None,
    *,
    same_way: bool,
    showing: Showing,
) -> tuple[NumberLine, ...]:
    """Return the numbers of a setup; `setting` is one of those it serves."""
    found = []
    for name, mm in setup.at.items():
        stays = before is not None and _stays(name, setup, before)
        is_fine = name == "width"
        found.append(
            NumberLine(
                name=name,
                label=number_label(name, setting),
                shown=showing.difference(mm) if is_fine else showing.of(mm),
                note=_note(name, setting),
                exactly=_exactly(mm, showing) if not is_fine else "",
                stays=stays or (is_fine and same_way),
            )
        )
    return tuple(found)


def _exactly(mm: Fraction, showing: Showing) -> str:
    if not showing.of(mm).word:
        return ""
    fine = showing.difference(mm)
    return f"{fine.text} {fine.unit}"


def _stays(name: Name, setup: Setup, before: Setup) -> bool:
    if name == "stop" and (setup.rest, setup.side) != (before.rest, before.side):
        return False
    if name == "width" and setup.kind != before.kind:
        return False
    return before.at.get(name) == setup.at[name]


def number_label(name: str, setting: Setting) -> str:
    """Return what one number of a setting is called."""
    if name == "stop":
        if setting.rest == "none":
            return gettext("In from the end")
        if by_marks(setting):
            return gettext("Mark")
        return gettext("Stop") if setting.rest == "stop" else gettext("Fence")
    if name == "height":
        if setting.kind == "notch":
            return gettext("In from the edge")
        if setting.kind == "thickness":
            return gettext("Thickness")
        raised = setting.machine in ("table_saw", "router_table")
        return gettext("Height") if raised else gettext("Depth")
    return {
        "width": gettext("Bit") if setting.kind == "hole" else gettext("Width"),
        "start": gettext("Starts at"),
        "length": gettext("Length"),
        "short": gettext("Stops short by"),
        "other_short": gettext("At the other edge short by"),
    }[name]


def _note(name: Name, setting: Setting) -> str:
    if name != "stop" or setting.rest == "none":
        return ""
    if by_marks(setting):
        near, far = gettext("to the near side of the cut"), gettext("to the inner side")
        return near if setting.side == "near" else far
    near = gettext("from the near side of the {tool}")
    far = gettext("from the far side of the {tool}")
    tool = gettext(TOOLS.get(setting.machine, "blade"))
    return (near if setting.side == "near" else far).format(tool=tool)


def change_words(numbers: Sequence[NumberLine]) -> str:
    """Return what to change from the setup before, in words."""
    new = ", ".join(line.label.lower() for line in numbers if not line.stays)
    stays = ", ".join(line.label.lower() for line in numbers if line.stays)
    if not stays:
        return gettext("All is set anew.")
    if not new:
        return gettext("The numbers stay; the parts are laid another way.")
    return gettext("New: {new}. Stays: {stays}.").format(new=new, stays=stays)
