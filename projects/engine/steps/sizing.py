"""Which sizes a step cuts, and so which are cut once its step is done."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from projects.engine.plan.records import Dimension, Plan
from projects.engine.plan.steps import Step
from projects.engine.shop.machines import MACHINES

CROSSCUTS = "mitre_saw"
"""The machine that cuts to length and to nothing else."""
SOLID = "solid"


def sizes_cut(
    plan: Plan, steps: Sequence[Step], done: Collection[str]
) -> frozenset[tuple[str, Dimension]]:
    """Return the sizes, as part and dimension, that steps marked as done have cut."""
    return frozenset(
        size
        for step in steps
        if step.key in done
        for size in step_sizes(plan, steps, step)
    )


def step_sizes(
    plan: Plan, steps: Sequence[Step], step: Step
) -> Iterator[tuple[str, Dimension]]:
    """Give the sizes that one step cuts its parts to; none for a step of joints.

    A planer sets thicknesses, which are read from the stock, so it gives none either.
    """
    at_size = MACHINES[step.machine].sizes_parts and step.machine != "planer"
    if step.joints or step.stage not in ("mill", "fitted") or not at_size:
        return
    for key in step.parts:
        for dimension in dimensions_cut(plan, steps, step, key):
            yield key, dimension


def dimensions_cut(
    plan: Plan, steps: Sequence[Step], step: Step, key: str
) -> Iterator[Dimension]:
    """Give what a step that cuts to size cuts a part to; `steps` are all there are."""
    if step.machine != CROSSCUTS:
        yield "width"
    if step.machine == CROSSCUTS or _both_ways(plan, steps, key):
        yield "length"


def _both_ways(plan: Plan, steps: Sequence[Step], key: str) -> bool:
    """Return whether the step that rips a part cuts it off too.

    Sheet stock is cut to both sizes at once, solid wood where no other step does it.
    """
    part = plan.part_by_key[key]
    if plan.stock_by_key[part.stock].kind != SOLID:
        return True
    # without steps of its own a plan's are proposed: ripped here, cut off elsewhere
    return bool(steps) and not any(
        key in other.parts and other.machine == CROSSCUTS and not other.joints
        for other in steps
    )
