"""A class's run sheet at one machine: the fewest setups, each with whom it serves."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations

from projects.engine.setups.grouping import Group, Tolerance, Wish, fewest_groups
from projects.engine.setups.ordering import least_change
from projects.engine.setups.setting_records import (
    KINDS,
    Kind,
    Name,
    Rest,
    Setting,
    Side,
)
from projects.engine.units import mm_per

_IN = mm_per("in")


TOLERANCES: dict[Name, Tolerance] = {
    "stop": Tolerance(under_mm=_IN / 64, over_mm=_IN / 64),
    "width": Tolerance(under_mm=Fraction(0), over_mm=_IN * 5 / 1000),
    "height": Tolerance(under_mm=_IN / 128, over_mm=_IN / 128),
    "start": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
    "length": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
    "short": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
    "other_short": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
}
"""How far each number may be off where the shop says nothing else.

A slot may be a little wider than wanted, never narrower. Source: common practice, no
source.
"""


RUN_OUT: tuple[Kind, ...] = ("rabbet", "lap")
"""Cuts that something sits in which can run out at an end of their part."""


@dataclass(frozen=True, kw_only=True)
class Job:
    """Hold one setting that one student wants, for a step."""

    who: Hashable
    step: str
    setting: Setting


@dataclass(frozen=True, kw_only=True)
class Setup:
    """Hold one setup: the numbers to set [mm] and the jobs it serves."""

    kind: Kind
    rest: Rest
    side: Side
    at: Mapping[Name, Fraction]
    jobs: tuple[Job, ...]


@dataclass(frozen=True, kw_only=True)
class RunSheet:
    """Hold the setups in order, and the jobs that wait for a dry fit.

    `changes` says how often the tool with its width, the height and the stop change;
    `is_proven` whether no order that makes each part's cuts in turn has fewer. The
    number of setups is always the least.
    """

    setups: tuple[Setup, ...]
    waiting: tuple[Job, ...]
    changes: tuple[int, ...]
    is_proven: bool


@dataclass(frozen=True, kw_only=True)
class Sort:
    """What settings must have in common to share a setup at all."""

    kind: Kind
    rest: Rest
    side: Side
    names: tuple[Name, ...] = field(default=())


def run_sheet(
    jobs: Iterable[Job], *, tolerances: Mapping[Name, Tolerance] = TOLERANCES
) -> RunSheet:
    """Return the fewest setups such that each job's numbers are near enough to one.

    Exact; see `grouping`. What a step cuts on one part stays in the order of kinds:
    its shoulders before its cheeks, ripped before it is crosscut. Of the orders that
    keep to that it is one of least change, the tool first.
    """
    every = tuple(jobs)
    sorts = sorted_wishes(every, tolerances)
    setups = [
        _setup(sort, group)
        for sort in sorted(sorts, key=str)
        for group in fewest_groups(sorts[sort])
    ]
    setups.sort(key=_in_turn)
    order = least_change([_set_up(setup) for setup in setups], before=_before(setups))
    return RunSheet(
        setups=tuple(setups[n] for n in order.indices),
        waiting=tuple(job for job in every if job.setting.waits),
        changes=order.changes,
        is_proven=order.is_proven,
    )


def sorted_wishes(
    jobs: Iterable[Job], tolerances: Mapping[Name, Tolerance]
) -> dict[Sort, list[Wish[Job]]]:
    """Return what is wanted, those that could share a setup at all together.

    What waits for a dry fit is left out.
    """
    found: dict[Sort, list[Wish[Job]]] = {}
    for job in jobs:
        if not job.setting.waits:
            sort = _sort(job.setting)
            found.setdefault(sort, []).append(_wish(job, sort, tolerances))
    return found


def _sort(setting: Setting) -> Sort:
    names = tuple(quantity.name for quantity in setting.quantities)
    return Sort(kind=setting.kind, rest=setting.rest, side=setting.side, names=names)


def _wish(job: Job, sort: Sort, tolerances: Mapping[Name, Tolerance]) -> Wish[Job]:
    return Wish(
        who=job,
        wanted=tuple(
            quantity.mm
            for quantity in job.setting.quantities
            if quantity.mm is not None  # none of them waits
        ),
        within=tuple(tolerances[tolerance_name(sort, name)] for name in sort.names),
    )


def tolerance_name(of: Sort | Setup, name: Name) -> Name:
    """Return whose tolerance a number has: its own, or that of a slot's width.

    Where a rabbet or lap runs out at the end, its stop is how wide it gets: never
    narrower than wanted, either.
    """
    is_width = name == "stop" and of.side == "far" and of.kind in RUN_OUT
    return "width" if is_width else name


def _setup(sort: Sort, group: Group[Job]) -> Setup:
    return Setup(
        kind=sort.kind,
        rest=sort.rest,
        side=sort.side,
        at=dict(zip(sort.names, group.at, strict=True)),
        jobs=tuple(wish.who for wish in group.wishes),
    )


def _in_turn(setup: Setup) -> tuple[object, ...]:
    """Return what setups are sorted by before they are ordered: by kinds."""
    numbers = [setup.at.get(name, Fraction(-1)) for name in ("width", "height", "stop")]
    return KINDS.index(setup.kind), numbers[:2], setup.rest, setup.side, numbers[2]


def _before(setups: Sequence[Setup]) -> set[tuple[int, int]]:
    """Return which setups come before which: those of one part and step, by kinds."""
    made: dict[tuple[Hashable, str, str], set[int]] = {}
    for number, setup in enumerate(setups):
        for job in setup.jobs:
            for piece in job.setting.pieces:
                made.setdefault((job.who, job.step, piece.part), set()).add(number)
    return {
        (one, other)
        for numbers in made.values()
        for one, other in combinations(sorted(numbers), 2)
        if setups[one].kind != setups[other].kind
    }


def _set_up(setup: Setup) -> tuple[Hashable, ...]:
    """Return what is set, what takes longest to change first."""
    return (
        (setup.kind, setup.at.get("width")),
        setup.at.get("height"),
        (setup.rest, setup.side, setup.at.get("stop")),
    )
