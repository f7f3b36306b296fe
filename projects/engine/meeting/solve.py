"""The best plan of a meeting that a search finds in its time, and how good it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import ceil, floor
from typing import Literal

from ortools.sat.python import cp_model

from projects.engine.meeting.credit import worth
from projects.engine.meeting.faults import turn_faults
from projects.engine.meeting.listing import listed, listed_to_the_end
from projects.engine.meeting.model import Model, build
from projects.engine.meeting.records import (
    MeetingError,
    MeetingPlan,
    Night,
    Turn,
    in_order,
)
from projects.engine.meeting.room import in_lanes

Objective = Literal["points", "last_end"]


def solve(night, *, seconds=20.0, workers=2, seed=0, effort=None, objective="points", hint=None, log=False, **params):
    model = build(night, last_end=objective == "last_end")
    if hint is None:
        hint = listed_to_the_end(night) if objective == "last_end" else listed(night)
    _hint(model, hint)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = seed
    solver.parameters.log_search_progress = log
    for k, v in params.items():
        if isinstance(v, list):
            getattr(solver.parameters, k).extend(v)
        else:
            setattr(solver.parameters, k, v)
    status = solver.solve(model.cp)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        raise MeetingError("none: {s}", s=solver.status_name(status))
    turns = _turns(model, solver)
    const = worth(night, night.begun) if objective == "points" else 0
    return MeetingPlan(turns=turns, value=round(solver.objective_value) + const, bound=floor(solver.best_objective_bound + 1e-6) + const, is_proven=status == cp_model.OPTIMAL)


def _hint(model: Model, turns: Iterable[Turn]) -> None:
    given = {(turn.student, turn.task): turn for turn in turns}
    for key, step in model.placed.items():
        turn = given.get(key)
        model.cp.add_hint(step.present, turn is not None)
        if turn is not None:
            model.cp.add_hint(step.start, turn.start)
        for c in step.choices:
            if len(step.choices) > 1:
                model.cp.add_hint(c.taken, turn is not None and turn.machine == c.way.machine and c.unit in (None, turn.unit))


def _turns(model, solver):
    night = model.night
    turns = list(night.begun)
    for (who, key), p in model.placed.items():
        if not solver.boolean_value(p.present):
            continue
        (c,) = [c for c in p.choices if solver.boolean_value(c.taken)]
        start = solver.value(p.start)
        turns.append(Turn(student=who, task=key, machine=c.way.machine, unit=c.unit, start=start, end=start + c.way.minutes))
    for m in night.machines:
        at = [t for t in turns if t.machine == m.key]
        turns = [t for t in turns if t.machine != m.key]
        turns += [replace(t, unit=lane // m.most_people) for t, lane in in_lanes(night, m, at)]
    return in_order(turns)
