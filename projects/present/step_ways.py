"""What a shop's machines of one kind have for a setting, for a step's page."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from projects.engine.fit.solve import Solution
from projects.engine.setups.run_sheet import TOLERANCES
from projects.engine.setups.setting_records import Setting
from projects.models import Machine
from projects.present.cut_tools import (
    WayLines,
    beyond_lines,
    has_tools,
    tool_lines,
)
from projects.showing import Showing

ROOM = (Fraction(0), TOLERANCES["width"].over_mm)
"""How much narrower and wider a cut may get [mm]: as a run sheet has it."""


def tools_for(
    machines: Sequence[Machine], setting: Setting, showing: Showing
) -> WayLines | None:
    """Return what to cut a setting with: at the first machine where a way serves.

    None where there is nothing to choose or no tool written down, and while it waits.
    """
    at = {q.name: q.mm for q in setting.quantities if q.mm is not None}
    if len(at) < len(setting.quantities):
        return None
    every = [
        lines
        for machine in _of_kind(machines, setting)
        if has_tools(machine)
        if (lines := tool_lines(machine, setting, at, ROOM, showing))
    ]
    return next((lines for lines in every if lines.serves), next(iter(every), None))


def beyond_all(
    machines: Sequence[Machine], solution: Solution, setting: Setting, showing: Showing
) -> tuple[str, ...]:
    """Return what of a setting is more than each machine takes; () where one does."""
    every = [
        beyond_lines(machine, solution, setting, showing)
        for machine in _of_kind(machines, setting)
    ]
    if not every or not all(every):
        return ()
    return tuple(dict.fromkeys(line for lines in every for line in lines))


def _of_kind(machines: Sequence[Machine], setting: Setting) -> list[Machine]:
    return [machine for machine in machines if machine.kind == setting.machine]
