"""What moving a build to another revision changes, part by part."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.solve import solve
from projects.engine.fit.system import SizeKey
from projects.engine.plan.records import Plan
from projects.engine.units import Shown
from projects.models import Build, Reading, Revision
from projects.progress import marked_sizes
from projects.showing import Showing
from projects.words import lines


@dataclass(frozen=True, kw_only=True)
class SizeChange:
    """A size that differs; `before` or `after` is None where there is no such part.

    `is_cut` where it was logged as cut, or the step that cuts it is marked as done: it
    keeps its size, and may not fit.
    """

    part: str
    dimension: str
    before: Shown | None
    after: Shown | None
    is_cut: bool


@dataclass(frozen=True, kw_only=True)
class BuildChange:
    """What a move changes for one build.

    `problems` is why it can't be moved; `dropped` names readings of things the new
    revision doesn't have: they stay in the history and no longer count.
    `is_begun` where something is cut or dry-fitted.
    """

    build: Build
    changes: tuple[SizeChange, ...]
    dropped: tuple[str, ...]
    problems: tuple[str, ...]
    is_begun: bool

    @property
    def cut_parts(self) -> tuple[str, ...]:
        """The parts already cut whose planned size changes."""
        return tuple(dict.fromkeys(c.part for c in self.changes if c.is_cut))


def build_changes(
    builds: Iterable[Build], revision: Revision, showing: Showing
) -> list[BuildChange]:
    """Return what moving each build to `revision` changes.

    Readings and step marks are fetched.
    """
    return [_change(build, revision, showing) for build in builds]


def _change(build: Build, revision: Revision, showing: Showing) -> BuildChange:
    rows = list(build.readings.all())
    new_plan = adapters.plan_of(revision)
    dropped = tuple(
        row.target
        for row in adapters.current_rows(rows)
        if adapters.read_target(row.target, new_plan) is None
    )
    try:
        solve(new_plan, adapters.readings_of(new_plan, rows))
        after = _planned(new_plan, rows)
    except EngineError as error:
        return BuildChange(
            build=build,
            changes=(),
            dropped=dropped,
            problems=tuple(lines(error)),
            is_begun=True,
        )
    cut = _cut(build, rows)
    is_measured = any(row.target.startswith("distance:") for row in rows)
    return BuildChange(
        build=build,
        changes=_changes(build, new_plan, rows, after, cut, showing),
        dropped=dropped,
        problems=(),
        is_begun=bool(cut) or is_measured,
    )


def _cut(build: Build, rows: list[Reading]) -> frozenset[SizeKey]:
    """Return the sizes that were logged as cut, or whose step is marked as done."""
    plan = adapters.plan_of(build.revision)
    logged = {
        (fact.key, fact.dimension)
        for fact in adapters.readings_of(plan, rows).facts
        if fact.kind == "cut" and fact.dimension
    }
    return marked_sizes(build) | logged


def _planned(plan: Plan, rows: list[Reading]) -> dict[SizeKey, Fraction]:
    """Return each size as it would be cut now, were nothing cut yet."""
    readings = adapters.readings_of(plan, rows)
    facts = {f: r for f, r in readings.facts.items() if f.kind == "distance"}
    return dict(solve(plan, replace(readings, facts=facts)).sizes)


def _changes(
    build: Build,
    new_plan: Plan,
    rows: list[Reading],
    after: dict[SizeKey, Fraction],
    cut: frozenset[SizeKey],
    showing: Showing,
) -> tuple[SizeChange, ...]:
    old_plan = adapters.plan_of(build.revision)
    try:
        before = _planned(old_plan, rows)
    except EngineError:
        # the build's own page tells why; all sizes of the new revision are news then
        before = {}
    names = {
        part.key: part.name for plan in (old_plan, new_plan) for part in plan.parts
    }
    return tuple(
        SizeChange(
            part=names[key[0]],
            dimension=key[1],
            before=showing.of(before[key]) if key in before else None,
            after=showing.of(after[key]) if key in after else None,
            is_cut=key in cut,
        )
        for key in dict.fromkeys((*before, *after))
        if before.get(key) != after.get(key)
    )
