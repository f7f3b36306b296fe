"""From rows to the engine's records."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import cast

from projects.engine.errors import EngineError
from projects.engine.fit.advice import Target, measured_at
from projects.engine.fit.miscut import given_first
from projects.engine.fit.solve import Solution, solve
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import Fact, Instrument, Readings
from projects.engine.plan.readings import Reading as EngineReading
from projects.engine.plan.records import Dimension
from projects.engine.plan.records import Plan as EnginePlan
from projects.engine.plan.steps import Step
from projects.engine.steps import propose
from projects.engine.units import Length
from projects.engine.units.length import UnitSystem
from projects.models import Build, Reading, Revision
from projects.words import lines


@lru_cache(maxsize=64)
def _read(document: str) -> EnginePlan:
    return read_plan(document)


def plan_of(revision: Revision) -> EnginePlan:
    """Return the plan a revision holds; it was checked when it was published."""
    return _read(revision.document)


@lru_cache(maxsize=64)
def steps_of(plan: EnginePlan) -> tuple[Step, ...]:
    """Return a plan's steps; those that follow from its joints where it has none."""
    return plan.steps or propose(plan)


def read_target(text: str, plan: EnginePlan) -> Target | None:
    """Return the target that `text` names, or None where the plan has no such thing."""
    kind, _, rest = text.partition(":")
    key, _, dimension = rest.partition(".")
    if kind == "cut" and key in plan.part_by_key and dimension in ("length", "width"):
        return Target(kind="cut", key=key, dimension=cast(Dimension, dimension))
    dry = {distance.key for distance in plan.distances if distance.dry_fit}
    known: dict[str, Iterable[str]] = {
        "stock": plan.stock_by_key,
        "part": plan.part_by_key,
        "distance": plan.distance_by_key,
        "diagonal": dry,
    }
    if not dimension and key in known.get(kind, ()):
        return Target(kind=kind, key=key)  # type: ignore[arg-type]
    return None


def current_rows(rows: Iterable[Reading]) -> list[Reading]:
    """Return the rows that count, oldest first: the newest of each target and point.

    `rows` come oldest first; a point whose newest row sets it aside is left out.
    """
    newest: dict[tuple[str, int], Reading] = {}
    for row in rows:
        newest.pop((row.target, row.point), None)
        newest[row.target, row.point] = row
    return [row for row in newest.values() if row.mm is not None]


def readings_of(plan: EnginePlan, rows: Iterable[Reading]) -> Readings:
    """Return the readings that count; the newest fact is believed first.

    A distance is the mean of what was read at its ends, and as new as the newest end.
    On the dry assembly it is no fact before both ends were read.
    """
    current = current_rows(rows)
    points: dict[str, dict[str, tuple[EngineReading, ...]]]
    points = {kind: {} for kind in ("stock", "part", "distance", "diagonal")}
    facts: dict[Fact, EngineReading] = {}
    for row in sorted(current, key=lambda row: row.point):
        target = read_target(row.target, plan)
        if target is not None and target.kind in points:
            group = points[target.kind]
            group[target.key] = (*group.get(target.key, ()), engine_reading(row))
    for row in reversed(current):
        target = read_target(row.target, plan)
        if target is not None and target.fact is not None:
            facts.setdefault(target.fact, engine_reading(row))
    for key, ends in points["distance"].items():
        fact, mean = Fact(kind="distance", key=key), measured_at(plan, key, ends)
        if mean is None:
            del facts[fact]
        else:
            facts[fact] = mean
    return Readings(
        stock=points["stock"],
        parts=points["part"],
        facts=facts,
        distance_points=points["distance"],
    )


def diagonals_of(rows: Iterable[Reading], key: str) -> tuple[Reading, Reading] | None:
    """Return the two diagonals that count of one dry assembly; None without both."""
    target = str(Target(kind="diagonal", key=key))
    found = {row.point: row for row in current_rows(rows) if row.target == target}
    return (found[1], found[2]) if {1, 2} <= found.keys() else None


def engine_reading(row: Reading) -> EngineReading:
    """Return one row as the engine's record."""
    return EngineReading(
        length=Length(mm=row.mm, unit=cast(UnitSystem, row.unit)),
        instrument=cast(Instrument, row.instrument),
        point=row.point,
    )


def problems_of(build: Build, rows: Iterable[Reading]) -> list[str]:
    """Return why a build can't be solved with these rows; empty where it can."""
    try:
        solve_build(build, rows)
    except EngineError as error:
        return lines(error)
    return []


def solve_build(build: Build, rows: Iterable[Reading]) -> Solution:
    """Return the build solved with these rows; raises `EngineError` as `solve` does."""
    plan = plan_as_agreed(plan_of(build.revision), build.let_give)
    return solve(plan, readings_of(plan, rows))


@lru_cache(maxsize=64)
def plan_as_agreed(plan: EnginePlan, let_give: str) -> EnginePlan:
    """Return a plan with the distance first to give that was agreed for one build.

    The plan itself where none was, or where the plan wants no such distance any more.
    """
    distance = plan.distance_by_key.get(let_give)
    wanted = distance is not None and distance.value is not None
    return given_first(plan, let_give) if wanted else plan
