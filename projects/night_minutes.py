"""How long a step takes at a meeting, by where it is done and its stage."""

from __future__ import annotations

from collections.abc import Mapping

from projects.engine.plan.steps import Stage
from projects.engine.shop.machines import HAND_TOOLS
from projects.models import Machine

BENCH_MINUTES = 10
"""What a step takes at a bench that isn't listed as a machine."""
BY_HAND: Mapping[Stage, int] = {
    "mill": 4,
    "joinery": 3,
    "fitted": 3,
    "shaping": 2,
    "sanding": 2,
}
"""How many times as long as a plain step one of these takes with hand tools.

The plain step is what the instructor sets for the hand tools. Source: common practice,
no source.
"""


def step_minutes(machine: Machine | None, kind: str, stage: Stage) -> int:
    """Return the minutes of a step at a machine, or at the bench (None).

    `kind` is that of the machine, or of the work at the bench.
    """
    minutes = max(1, machine.step_minutes) if machine else BENCH_MINUTES
    return minutes * BY_HAND.get(stage, 1) if kind == HAND_TOOLS else minutes


def change_minutes(machine: Machine) -> int:
    """Return the minutes that a change of its setup takes; hand tools have none."""
    return 0 if machine.kind == HAND_TOOLS else machine.setup_minutes
