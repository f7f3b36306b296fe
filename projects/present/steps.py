"""A plan's steps, stage by stage, and what is impossible about their order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext

from projects.engine.plan.records import Plan
from projects.engine.plan.steps import STAGES, STOCK, Step
from projects.engine.shop.cautions import Caution
from projects.engine.shop.machines import MACHINES
from projects.engine.steps import Fault, cautions_of, order_faults


@dataclass(frozen=True, kw_only=True)
class StepLine:
    """One step with its names written out; `number` counts from 1."""

    number: int
    step: Step
    machine: str
    other_ways: tuple[tuple[str, str], ...]
    parts: tuple[str, ...]
    joints: tuple[str, ...]
    measured_first: tuple[str, ...]
    measures: tuple[str, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, kw_only=True)
class FaultLine:
    """What is impossible about the order, in words."""

    what: str
    why: str
    remedy: str
    steps: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Stage:
    """The steps of one stage that follow each other."""

    key: str
    name: str
    steps: tuple[StepLine, ...]


def stages(plan: Plan, steps: Sequence[Step]) -> tuple[Stage, ...]:
    """Return the steps in order, those of one stage together."""
    numbered = [_line(plan, n, step) for n, step in enumerate(steps, start=1)]
    return tuple(
        Stage(key=key, name=gettext(STAGES[key]), steps=tuple(lines))
        for key, lines in groupby(numbered, key=lambda line: line.step.stage)
    )


def _line(plan: Plan, number: int, step: Step) -> StepLine:
    return StepLine(
        number=number,
        step=step,
        machine=gettext(MACHINES[step.machine].name),
        other_ways=tuple(
            (gettext(MACHINES[way.machine].name), way.note) for way in step.other_ways
        ),
        parts=tuple(plan.part_by_key[key].name for key in step.parts),
        joints=tuple(plan.joint_name(plan.joint_by_key[key]) for key in step.joints),
        measured_first=_measured(plan, step.measured_first),
        measures=_measured(plan, step.measures),
        cautions=cautions_of(step),
    )


def _measured(plan: Plan, keys: Sequence[str]) -> tuple[str, ...]:
    return tuple(
        plan.stock_by_key[key.removeprefix(STOCK)].name
        if key.startswith(STOCK)
        else plan.distance_by_key[key].name
        for key in keys
    )


def fault_lines(plan: Plan, steps: Sequence[Step]) -> tuple[FaultLine, ...]:
    """Return what is impossible about the order of these steps."""
    titles = {step.key: step.title for step in steps}
    return tuple(_fault(fault, titles) for fault in order_faults(plan, tuple(steps)))


def _fault(fault: Fault, titles: dict[str, str]) -> FaultLine:
    return FaultLine(
        what=fault.what,
        why=fault.why,
        remedy=fault.remedy,
        steps=tuple(titles[key] for key in fault.steps),
    )
