"""Where a build stands in its plan's steps: what is done, open, and blocked by what."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from projects.engine.fit.equations import Input
from projects.engine.fit.solve import Doubt, Solution, fact_input
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.engine.plan.steps import STOCK, Step
from projects.engine.shop.machines import HAND_TOOLS, NO_MACHINE
from projects.engine.steps.turns import Turns, turns_of

BlockKind = Literal["step", "no_machine", "sign_off", "reading", "dry_fit", "doubt"]
WayState = Literal["open", "not_signed", "not_here"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Course:
    """Hold a plan's steps in their order, and what follows from the order alone.

    `first` holds for each step the keys of those that come first: the earlier ones
    that share a part with it; a step that names no part is about all of them.
    `measures` holds what each step measures, said or not (see `turns`).
    """

    plan: Plan
    steps: tuple[Step, ...]
    turns: Turns
    first: Mapping[str, tuple[str, ...]]
    measures: Mapping[str, tuple[str, ...]]

    def after(self, key: str) -> tuple[Step, ...]:
        """Return the steps that the step `key` comes first for."""
        return tuple(step for step in self.steps if key in self.first[step.key])


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
    def open_ways(self) -> tuple[Way, ...]:
        """The ways that are open, the plan's first."""
        return tuple(way for way in self.ways if way.state == "open")


def course_of(plan: Plan, steps: Sequence[Step]) -> Course:
    """Return the course of a plan's steps; worth keeping, it serves every build."""
    turns = turns_of(plan, tuple(steps))
    parts = [frozenset(step.parts or plan.part_by_key) for step in steps]
    measured: dict[int, list[str]] = {}
    for key, n in turns.distance.items():
        measured.setdefault(n, []).append(key)
    return Course(
        plan=plan,
        steps=turns.steps,
        turns=turns,
        first={
            step.key: tuple(
                earlier.key
                for earlier, of in zip(steps[:n], parts, strict=False)
                if of & parts[n]
            )
            for n, step in enumerate(steps)
        },
        measures={
            step.key: tuple(dict.fromkeys((*step.measures, *measured.get(n, ()))))
            for n, step in enumerate(steps)
        },
    )


def step_standings(
    solution: Solution,
    course: Course,
    *,
    done: Collection[str],
    listed: Collection[str],
    signed: Collection[str],
) -> Iterator[StepStanding]:
    """Yield where a build stands with each step of its plan's course, in order.

    `done` are keys of steps; `listed` the kinds of machine the class has, `signed`
    those that the student is signed off on. The bench needs no sign-off, and hand
    tools only where they are listed.
    """
    doubted = _doubted(solution)
    for n, step in enumerate(course.steps):
        ways = _ways(step, listed, signed)
        measures = course.measures[step.key]
        is_done = step.key in done
        blocks = () if is_done else _blocks(solution, course, n, done, ways, doubted)
        yield StepStanding(
            step=step,
            is_done=is_done,
            ways=ways,
            blocks=tuple(block for block in blocks if block.about),
            to_log=tuple(key for key in measures if not _is_logged(solution, key)),
        )


def in_hand(standings: Iterable[StepStanding]) -> StepStanding | None:
    """Return the step to do next: the first that is open, else the first not done.

    No more is taken from `standings` than it needs.
    """
    first = None
    for standing in standings:
        if standing.is_open:
            return standing
        if first is None and not standing.is_done:
            first = standing
    return first


def _blocks(
    solution: Solution,
    course: Course,
    at: int,
    done: Collection[str],
    ways: Sequence[Way],
    doubted: Sequence[tuple[str, frozenset[Input]]],
) -> tuple[Block, ...]:
    """Return what keeps the step at `at` from being begun; a block may be empty."""
    step = course.steps[at]
    waits = tuple(key for key in step.measured_first if not _is_logged(solution, key))
    stock = tuple(key for key in waits if key.startswith(STOCK))
    first = tuple(key for key in course.first[step.key] if key not in done)
    return (
        Block(kind="doubt", about=_doubts(solution, step, doubted)),
        Block(kind="step", about=first),
        _machine_block(ways),
        Block(kind="reading", about=stock),
        Block(kind="dry_fit", about=_dry_fits(solution, course, at, waits)),
    )


def _ways(
    step: Step, listed: Collection[str], signed: Collection[str]
) -> tuple[Way, ...]:
    def state(machine: str) -> WayState:
        if machine == NO_MACHINE:
            return "open"
        if machine in listed:
            return "open" if machine in signed else "not_signed"
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


def _dry_fits(
    solution: Solution, course: Course, at: int, waits: Sequence[str]
) -> tuple[str, ...]:
    """Return the distances that the step at `at` or a size of its parts waits for.

    A step that measures a distance does not wait for it; nor does one before that,
    as it works the part roughly, unless the part has its size there.
    """
    step, turns = course.steps[at], course.turns
    sizes = (
        key
        for part in step.parts
        for dimension in DIMENSIONS
        for key in solution.system.waiting.get((part, dimension), ())
        if turns.distance.get(key, at) <= at or turns.part.get(part) == at
    )
    distances = (key for key in waits if not key.startswith(STOCK))
    measured = course.measures[step.key]
    return tuple(k for k in dict.fromkeys((*distances, *sizes)) if k not in measured)


def _doubted(solution: Solution) -> tuple[tuple[str, frozenset[Input]], ...]:
    """Return each fact in doubt with the inputs any of which may be misread.

    Those are the fact itself and the facts that it disagrees with: the newest is
    believed, but nobody knows which of them is wrong.
    """
    forms = {d.equation.input: d.form for d in solution.system.doubtful}

    def misread(doubt: Doubt) -> Iterator[Input]:
        yield (own := fact_input(doubt.fact))
        for _, item in forms[own].terms:
            if item.kind in ("measured", "cut"):
                yield item

    return tuple(
        (str(doubt.fact), frozenset(misread(doubt)))
        for doubt in solution.in_doubt
        if not doubt.agrees
    )


def _doubts(
    solution: Solution, step: Step, doubted: Sequence[tuple[str, frozenset[Input]]]
) -> tuple[str, ...]:
    """Return the facts in doubt that the step's readings or sizes rest on."""
    if not doubted:
        return ()
    rests_on = {Input(kind="measured", key=key) for key in step.measured_first}
    rests_on |= {
        item
        for part in step.parts
        for dimension in DIMENSIONS
        for _, item in solution.form((part, dimension)).terms
    }
    return tuple(fact for fact, misread in doubted if misread & rests_on)
