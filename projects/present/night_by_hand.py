"""How long steps take by hand, in words for the meeting's page."""

from __future__ import annotations

from itertools import groupby

from django.utils.translation import gettext

from projects.engine.plan.steps import STAGES
from projects.engine.shop.machines import HAND_TOOLS
from projects.engine.steps.words import in_a_row, in_text
from projects.models import Machine
from projects.night_minutes import BY_HAND, step_minutes

ByHand = tuple[tuple[int, str], ...]
"""Minutes, and the stages whose steps take so long."""


def by_hand(machine: Machine) -> ByHand:
    """Return what longer steps take with hand tools; nothing for another machine."""
    if machine.kind != HAND_TOOLS:
        return ()
    found = groupby(BY_HAND, lambda stage: step_minutes(machine, HAND_TOOLS, stage))
    return tuple(
        (minutes, in_a_row([in_text(gettext(STAGES[stage])) for stage in stages]))
        for minutes, stages in found
    )
