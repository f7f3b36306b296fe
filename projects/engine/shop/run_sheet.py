"""A class's run sheet at one machine: the fewest setups, each with whom it serves."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from projects.engine.errors import EngineError
from projects.engine.shop.grouping import Group, Wish, fewest_groups
from projects.engine.shop.ordering import least_change
from projects.engine.shop.setting_records import KINDS, Kind, Name, Rest, Setting, Side
from projects.engine.units import mm_per

_IN = mm_per("in")


@dataclass(frozen=True, kw_only=True)
class Tolerance:
    """Say how far under and over [mm] what is wanted a setup may be."""

    under_mm: Fraction
    over_mm: Fraction

    def __post_init__(self) -> None:
        if self.under_mm < 0 or self.over_mm < 0:
            raise EngineError("a tolerance can't be below 0")


TOLERANCES: dict[Name, Tolerance] = {
    "stop": Tolerance(under_mm=_IN / 64, over_mm=_IN / 64),
    "width": Tolerance(under_mm=Fraction(0), over_mm=_IN * 5 / 1000),
    "height": Tolerance(under_mm=_IN / 128, over_mm=_IN / 128),
    "start": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
    "length": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
    "short": Tolerance(under_mm=_IN / 32, over_mm=_IN / 32),
}
"""How far each number may be off where the shop says nothing else.

A slot may be a little wider than wanted, never narrower. Source: common practice, no
source.
"""


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
    `is_proven` whether no order has fewer. The number of setups is always the least.
    """

    setups: tuple[Setup, ...]
    waiting: tuple[Job, ...]
    changes: tuple[int, ...]
    is_proven: bool


@dataclass(frozen=True, kw_only=True)
class _Sort:
    """What settings must have in common to share a setup at all."""

    kind: Kind
    rest: Rest
    side: Side
    names: tuple[Name, ...] = field(default=())


def run_sheet(
    jobs: Iterable[Job], *, tolerances: Mapping[Name, Tolerance] = TOLERANCES
) -> RunSheet:
    """Return the fewest setups such that each job's numbers are near enough to one.

    Exact; see `grouping`. The order between them has the least change, the tool first.
    """
    sorts: dict[_Sort, list[Job]] = {}
    waiting = []
    for job in jobs:
        if job.setting.waits:
            waiting.append(job)
        else:
            sorts.setdefault(_sort(job.setting), []).append(job)
    setups = [
        _setup(sort, group)
        for sort in sorted(sorts, key=lambda s: (KINDS.index(s.kind), str(s)))
        for group in fewest_groups(
            [_wish(job, sort, tolerances) for job in sorts[sort]]
        )
    ]
    order = least_change([_set_up(setup) for setup in setups])
    return RunSheet(
        setups=tuple(setups[n] for n in order.indices),
        waiting=tuple(waiting),
        changes=order.changes,
        is_proven=order.is_proven,
    )


def _sort(setting: Setting) -> _Sort:
    names = tuple(quantity.name for quantity in setting.quantities)
    return _Sort(kind=setting.kind, rest=setting.rest, side=setting.side, names=names)


def _wish(job: Job, sort: _Sort, tolerances: Mapping[Name, Tolerance]) -> Wish:
    wanted = tuple(
        quantity.mm
        for quantity in job.setting.quantities
        if quantity.mm is not None  # none of them waits
    )
    around = [tolerances[name] for name in sort.names]
    return Wish(
        who=job,
        wanted=wanted,
        least=tuple(mm - t.under_mm for mm, t in zip(wanted, around, strict=True)),
        most=tuple(mm + t.over_mm for mm, t in zip(wanted, around, strict=True)),
    )


def _setup(sort: _Sort, group: Group) -> Setup:
    jobs = [wish.who for wish in group.wishes]
    return Setup(
        kind=sort.kind,
        rest=sort.rest,
        side=sort.side,
        at=dict(zip(sort.names, group.at, strict=True)),
        jobs=tuple(job for job in jobs if isinstance(job, Job)),
    )


def _set_up(setup: Setup) -> tuple[Hashable, ...]:
    """Return what is set, what takes longest to change first."""
    return (
        (setup.kind, setup.at.get("width")),
        setup.at.get("height"),
        (setup.rest, setup.side, setup.at.get("stop")),
    )
