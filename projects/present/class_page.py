"""A class as the instructor reads it: one line a student."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.advice import Next, next_to_log
from projects.engine.fit.solve import Solution
from projects.models import Build, Reading
from projects.present.build_page import is_visible
from projects.present.log_form import target_name


@dataclass(frozen=True, kw_only=True)
class StudentRow:
    """One student.

    `state` is broken, doubt, gives, waits, start, measuring or ready.
    """

    build: Build
    state: str
    count: int
    next_kind: str
    next_name: str
    point: int
    readings: int
    cut: int
    sizes: int
    newest: Reading | None


def class_rows(builds: Iterable[Build]) -> list[StudentRow]:
    """Return a row for each build; each has its readings fetched already."""
    return [_row(build) for build in builds]


def _row(build: Build) -> StudentRow:
    rows = list(build.readings.all())
    current = adapters.current_rows(rows)
    newest = rows[-1] if rows else None
    try:
        solution = adapters.solve_build(build, rows)
    except EngineError:
        # shown as a state of its own; the build's page tells what is wrong
        return StudentRow(
            build=build,
            state="broken",
            count=1,
            next_kind="",
            next_name="",
            point=1,
            readings=len(current),
            cut=0,
            sizes=0,
            newest=newest,
        )
    following = next_to_log(solution)
    state, count = _state(solution, bool(rows))
    kind, name = _next(solution, following)
    return StudentRow(
        build=build,
        state=state,
        count=count,
        next_kind=kind,
        next_name=name,
        point=following.point,
        readings=len(current),
        cut=sum(fact.kind == "cut" for fact in solution.readings.facts),
        sizes=2 * len(solution.plan.parts),
        newest=newest,
    )


def _next(solution: Solution, following: Next) -> tuple[str, str]:
    """Return what comes next: its kind (doubt, cut, or a target's) and its name."""
    if following.in_doubt and following.target is not None:
        return "doubt", target_name(following.target, solution.plan)
    if following.target is not None:
        return following.target.kind, target_name(following.target, solution.plan)
    if following.cut_now:
        names = (solution.plan.part_by_key[key].name for key in following.cut_now)
        return "cut", ", ".join(names)
    return "", ""


def _state(solution: Solution, started: bool) -> tuple[str, int]:
    """Return the state that calls loudest, and how many things make it."""
    doubts = sum(not doubt.agrees for doubt in solution.in_doubt)
    gives = sum(
        is_visible(solution.gives_mm(d.key), solution.plan)
        for d in solution.plan.distances
    )
    target = next_to_log(solution).target
    if doubts:
        return "doubt", doubts
    if not started:
        return "start", 0
    if gives:
        return "gives", gives
    if target is None:
        return "ready", 0
    return ("waits", 0) if target.kind == "distance" else ("measuring", 0)
