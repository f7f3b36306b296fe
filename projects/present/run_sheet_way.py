"""What cuts the width of a run sheet's setup, for all it serves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from django.utils.translation import gettext

from projects.engine.setups.grouping import Tolerance
from projects.engine.setups.run_sheet import Setup
from projects.engine.setups.setting_records import Name
from projects.models import Machine
from projects.present.cut_tools import Room, WayLines, tool_lines
from projects.showing import Showing


def way_lines(
    machine: Machine,
    setup: Setup,
    tolerances: Mapping[Name, Tolerance],
    showing: Showing,
) -> WayLines | None:
    """Return what to cut a setup with; None where there is nothing to choose."""
    width_mm = setup.at.get("width")
    within = room(setup, width_mm, tolerances["width"]) if width_mm else (0, 0)
    setting = setup.jobs[0].setting
    low, high = map(Fraction, within)
    found = tool_lines(machine, setting, setup.at, (low, high), showing)
    if found is None or found.serves:
        return found
    if len({job.setting.width_mm for job in setup.jobs}) > 1:
        parts = gettext("A smaller tolerance parts them; then each may be reached.")
        found = replace(found, lines=(*found.lines, parts))
    return found


def room(setup: Setup, width_mm: Fraction, tolerance: Tolerance) -> Room:
    """Return how much narrower and wider a slot may get [mm] to serve every student."""
    wanted = [mm for job in setup.jobs if (mm := job.setting.width_mm) is not None]
    low = max(mm - tolerance.under_mm for mm in wanted)
    high = min(mm + tolerance.over_mm for mm in wanted)
    return width_mm - low, high - width_mm
