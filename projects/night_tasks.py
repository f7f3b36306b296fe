"""What a student can do at a meeting: the next steps, where, and what waits for what.

Costs no query.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

from projects import progress
from projects.engine.fit.solve import Solution
from projects.engine.plan.steps import Step
from projects.engine.shop.machines import HAND_TOOLS, NO_MACHINE
from projects.engine.steps.standing import Block, Course, StepStanding
from projects.models import Machine
from projects.present.step_words import machine_name, reasons
from projects.run_sheet_people import Work
from projects.stands import Place

MOST_TASKS = 6
"""Steps a student is planned ahead; a meeting seldom has room for more."""
MOST_APART = 2


@dataclass(frozen=True, kw_only=True, eq=False)
class Ahead:
    """A step that can be planned: `at` each of these machines, or at the bench (None).

    `bench` is the kind of work at the bench: with hand tools, or with no machine. With
    `is_known` what it cuts by is known already, not only once an earlier step measures
    it. `revision` and the step's key say what is the same for whom.
    """

    solution: Solution
    step: Step
    revision: int
    at: tuple[Machine | None, ...]
    bench: str
    is_known: bool


@dataclass(frozen=True, kw_only=True)
class Apart:
    """A step that is next but can't be planned: by `kind` of block, or `down`.

    `about` are keys as the block has them, or the kinds of machine that are down;
    `words` say why.
    """

    place: Place
    kind: str
    about: tuple[str, ...]
    words: str


@dataclass(frozen=True, kw_only=True)
class Tasks:
    """The next steps of one student, in order, and those told apart."""

    tasks: tuple[Ahead, ...] = ()
    apart: tuple[Apart, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Floor:
    """The machines of a shop tonight; `down` are the numbers of those that are down."""

    machines: tuple[Machine, ...]
    down: frozenset[int]

    def of_kind(self, kind: str) -> tuple[Machine, ...]:
        """Return the machines of a kind."""
        return tuple(machine for machine in self.machines if machine.kind == kind)

    def running(self) -> tuple[Machine, ...]:
        """Return the machines that run."""
        return tuple(m for m in self.machines if m.pk not in self.down)


def tasks_of(
    work: Work, floor: Floor, signed: Collection[int], *, revision: int
) -> Tasks:
    """Return a build's next steps; its student is signed off on the machines `signed`.

    A step that waits for nothing but earlier tasks is one itself: for them to be done,
    or for what they measure, as they can't be ticked before it is logged.
    """
    course = progress.course(work.solution.plan)
    tasks: dict[str, Ahead] = {}
    apart: list[Apart] = []
    for place in work.places:
        if len(tasks) == MOST_TASKS:
            break
        standing = place.standing
        if standing.is_done:
            continue
        blocks = tuple(_still(standing, course, tasks))
        if blocks:
            # a step that waits for one that can't be planned is no news
            if all(block.kind != "step" for block in blocks):
                apart.append(_blocked(place, blocks[0], work, course))
            continue
        at = _places(standing, floor, signed)
        if at:
            tasks[standing.step.key] = Ahead(
                solution=work.solution,
                step=standing.step,
                revision=revision,
                at=at,
                bench=_bench(standing),
                is_known=all(block.kind == "step" for block in standing.blocks),
            )
        else:
            apart.append(_nowhere(place, floor, signed))
    return Tasks(tasks=tuple(tasks.values()), apart=tuple(apart[:MOST_APART]))


def _still(
    standing: StepStanding, course: Course, tasks: Mapping[str, Ahead]
) -> Iterator[Block]:
    """Yield what keeps a step from being done even once the tasks before are done."""
    measured = {key for task in tasks for key in course.measures[task]}
    for block in standing.blocks:
        met = {"step": tasks.keys(), "reading": measured, "dry_fit": measured}
        if not set(block.about) <= set(met.get(block.kind, ())):
            yield block


def _blocked(place: Place, block: Block, work: Work, course: Course) -> Apart:
    told = next(
        reason
        for reason, own in zip(
            reasons(place.standing, work.solution, course),
            place.standing.blocks,
            strict=True,
        )
        if own is block
    )
    return Apart(place=place, kind=block.kind, about=block.about, words=told.words)


def _nowhere(place: Place, floor: Floor, signed: Collection[int]) -> Apart:
    """Return a step whose ways are open, but at machines that are down alone."""
    kinds = [
        way.machine
        for way in place.standing.open_ways
        if any(machine.pk in signed for machine in floor.of_kind(way.machine))
    ]
    return Apart(place=place, kind="down", about=tuple(kinds), words=_named(kinds))


def _named(kinds: Sequence[str]) -> str:
    machines = gettext(" and the ").join(machine_name(kind) for kind in kinds)
    return gettext("the {machine} is down").format(machine=machines)


def _places(
    standing: StepStanding, floor: Floor, signed: Collection[int]
) -> tuple[Machine | None, ...]:
    """Return where a step can be done: by its open ways, at each machine signed for."""
    found: list[Machine | None] = []
    for way in standing.open_ways:
        there = floor.of_kind(way.machine)
        if way.machine == NO_MACHINE or (way.machine == HAND_TOOLS and not there):
            found.append(None)
        found += [m for m in there if m.pk in signed and m.pk not in floor.down]
    return tuple(dict.fromkeys(found))


def _bench(standing: StepStanding) -> str:
    """Return how a step is done at the bench; the plan's first way of the two."""
    kinds = [way.machine for way in standing.open_ways]
    return next((kind for kind in kinds if kind in (HAND_TOOLS, NO_MACHINE)), "")
