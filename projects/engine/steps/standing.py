"""Where a build stands in its plan's steps: what is done, open, and blocked by what."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from projects.engine.fit.solve import Solution
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.engine.plan.steps import STOCK, Step
from projects.engine.shop.machines import HAND_TOOLS, NO_MACHINE

BlockKind = Literal["step", "no_machine", "sign_off", "reading", "dry_fit", "doubt"]
WayState = Literal["open", "not_signed", "not_here"]


@dataclass(frozen=True, kw_only=True)
class Block:
    """Say one thing that keeps a step from being done.

    `about` are keys: of steps to do first, of machine kinds, of what is to be logged
    (distances, and stock as `stock:KEY`), of readings in doubt (as `Fact` writes them).
    """

    kind: BlockKind
    about: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Way:
    """Say whether a step can be done at one kind of machine, the plan's way first."""

    machine: str
    note: str
    state: WayState


@dataclass(frozen=True, kw_only=True)
class StepStanding:
    """Where a build stands with one step.

    `blocks` keep it from being begun, the loudest first; `to_log` is what it measures
    itself and nobody has logged yet: it can be begun, but not ticked.
    """

    step: Step
    is_done: bool
    ways: tuple[Way, ...]
    blocks: tuple[Block, ...]
    to_log: tuple[str, ...]

    @property
    def is_open(self) -> bool:
        """Tell whether it can be begun."""
        return not self.is_done and not self.blocks

    @property
    def can_be_ticked(self) -> bool:
        """Tell whether it can be marked as done."""
        return self.is_open and not self.to_log

    @property
    def way(self) -> Way | None:
        """The first way that is open, or None."""
        return next((way for way in self.ways if way.state == "open"), None)


def step_standings(
    solution: Solution,
    steps: Sequence[Step],
    *,
    done: Collection[str],
    listed: Collection[str],
    signed: Collection[str],
) -> tuple[StepStanding, ...]:
    """Return where a build stands with each of its plan's steps, in their order.

    `done` are keys of steps; `listed` the kinds of machine the class has, `signed`
    those that the student is signed off on. The bench needs no sign-off, and hand
    tools only where they are listed.
    """
    first = done_first(solution.plan, tuple(steps))
    return tuple(
        _standing(solution, step, first[step.key], done, listed, signed)
        for step in steps
    )


def in_hand(standings: Sequence[StepStanding]) -> StepStanding | None:
    """Return the step to do next: the first that is open, else the first not done."""
    left = [standing for standing in standings if not standing.is_done]
    return next((s for s in left if s.is_open), left[0] if left else None)


@lru_cache(maxsize=256)
def done_first(plan: Plan, steps: tuple[Step, ...]) -> dict[str, tuple[str, ...]]:
    """Return for each step the keys of the steps that come first.

    Those are the earlier steps that share a part with it; a step that names no part is
    about all of them.
    """
    found: dict[str, tuple[str, ...]] = {}
    for n, step in enumerate(steps):
        mine = _parts(plan, step)
        found[step.key] = tuple(
            earlier.key for earlier in steps[:n] if mine & _parts(plan, earlier)
        )
    return found


def _parts(plan: Plan, step: Step) -> frozenset[str]:
    return frozenset(step.parts or plan.part_by_key)


def _standing(
    solution: Solution,
    step: Step,
    first: tuple[str, ...],
    done: Collection[str],
    listed: Collection[str],
    signed: Collection[str],
) -> StepStanding:
    ways = _ways(step, listed, signed)
    waits = tuple(key for key in step.measured_first if not _is_logged(solution, key))
    blocks = [
        Block(kind="doubt", about=_doubts(solution, step)),
        Block(kind="step", about=tuple(key for key in first if key not in done)),
        _machine_block(ways),
        Block(kind="reading", about=tuple(k for k in waits if k.startswith(STOCK))),
        Block(kind="dry_fit", about=_dry_fits(solution, step, waits)),
    ]
    is_done = step.key in done
    return StepStanding(
        step=step,
        is_done=is_done,
        ways=ways,
        blocks=() if is_done else tuple(block for block in blocks if block.about),
        to_log=tuple(key for key in step.measures if not _is_logged(solution, key)),
    )


def _ways(
    step: Step, listed: Collection[str], signed: Collection[str]
) -> tuple[Way, ...]:
    def state(machine: str) -> WayState:
        if machine == NO_MACHINE or machine in signed:
            return "open"
        if machine in listed:
            return "not_signed"
        return "open" if machine == HAND_TOOLS else "not_here"

    other = ((way.machine, way.note) for way in step.other_ways)
    return tuple(
        Way(machine=machine, note=note, state=state(machine))
        for machine, note in ((step.machine, ""), *other)
    )


def _machine_block(ways: Sequence[Way]) -> Block:
    if any(way.state == "open" for way in ways):
        return Block(kind="sign_off", about=())
    lacking = tuple(way.machine for way in ways if way.state == "not_signed")
    if lacking:
        return Block(kind="sign_off", about=lacking)
    return Block(kind="no_machine", about=tuple(way.machine for way in ways))


def _is_logged(solution: Solution, key: str) -> bool:
    if not key.startswith(STOCK):
        return Fact(kind="distance", key=key) in solution.readings.facts
    stock = key.removeprefix(STOCK)
    parts = [part.key for part in solution.plan.parts if part.stock == stock]
    return bool(solution.readings.stock.get(stock)) or all(
        solution.readings.parts.get(part) for part in parts
    )


def _dry_fits(solution: Solution, step: Step, waits: Sequence[str]) -> tuple[str, ...]:
    """Return the distances that the step or a size of its parts waits for.

    The step that measures a distance does not wait for it.
    """
    sizes = (
        key
        for part in step.parts
        for dimension in DIMENSIONS
        for key in solution.system.waiting.get((part, dimension), ())
    )
    found = dict.fromkeys(
        (*(key for key in waits if not key.startswith(STOCK)), *sizes)
    )
    return tuple(key for key in found if key not in step.measures)


def _doubts(solution: Solution, step: Step) -> tuple[str, ...]:
    """Return the readings in doubt that the step's parts or distances are named in."""
    about = {*step.parts, *step.measured_first}
    return tuple(
        str(doubt.fact)
        for doubt in solution.in_doubt
        if not doubt.agrees and doubt.fact.key in about
    )
