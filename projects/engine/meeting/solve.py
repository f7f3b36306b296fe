"""The best plan of a meeting that a search finds, and how good it is proved to be.

Annealing gives a good plan, prices a bound, and CP-SAT improves both from there; on a
small night it proves that nothing is better. All but CP-SAT counts its work, so it
does the same on any computer; CP-SAT stops by the clock, and so may end differently,
unless `effort` stops it first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, floor
from typing import Literal

from ortools.sat.python import cp_model

from projects.engine.meeting.annealing import annealed, first_order
from projects.engine.meeting.credit import worth
from projects.engine.meeting.faults import turn_faults
from projects.engine.meeting.model import Model, build, hint, turns_of
from projects.engine.meeting.prices import most_points
from projects.engine.meeting.queue import Queue
from projects.engine.meeting.records import MeetingError, MeetingPlan, Night, Turn
from projects.engine.meeting.tightening import tightened

Objective = Literal["points", "last_end"]
MOVES_A_SECOND = 1300
"""Of annealing, for each second allowed: about a quarter of the time."""
ROUNDS_AT_LEAST, ROUNDS_A_SECOND = 40, 5
"""Of prices: about an eighth of the time."""
SOLVER_SHARE = 0.55
PROVABLE_STEPS = 40
"""With more open steps CP-SAT's own bound comes nowhere near that of the prices in the
time there is; so it only looks for improvements, in small neighbourhoods of a plan."""
NEIGHBOURHOOD, NEIGHBOURHOOD_WORK = 0.3, 0.03
SINCE_LEARNT = frozenset({"minutes", "setup"})
"""What may be told otherwise by now of a turn that has begun; it stays nevertheless."""


@dataclass(frozen=True, kw_only=True)
class Effort:
    """Hold how much work goes into a plan; `limit` is CP-SAT's own measure of work."""

    moves: int
    rounds: int
    seconds: float
    workers: int = 2
    seed: int = 0
    limit: float | None = None


def solve(
    night: Night,
    *,
    seconds: float = 20.0,
    workers: int = 2,
    seed: int = 0,
    effort: float | None = None,
    objective: Objective = "points",
) -> MeetingPlan:
    """Return who does what when; see `credit` for what is wanted.

    It takes about so many seconds on so many cores. `effort` limits CP-SAT by its own
    count of work instead (`max_deterministic_time`), for the same plan each time with
    one worker. The objective `last_end` has every step done and the last one end as
    early as it can, as a job shop's.

    Raises `MeetingError` where what has begun can't be so, where the order of steps
    runs in a circle, or where `last_end` doesn't fit all steps into the meeting.
    """
    work = _effort(seconds, workers=workers, seed=seed, limit=effort)
    if objective == "last_end":
        return _last_end(night, work)
    return _most_points(night, work, ())


def replan(
    plan: MeetingPlan,
    night: Night,
    now: int,
    *,
    seconds: float = 4.0,
    workers: int = 2,
    seed: int = 0,
    effort: float | None = None,
) -> MeetingPlan:
    """Return a new plan from minute `now` on, for a night that has changed.

    What the old plan had begun before now stays, where the night still has it so:
    not the turn of a student who is late, or at a machine that went down in it; other
    minutes or setups than it was planned with change nothing. What `night.begun` tells
    counts before the old plan. The rest starts from the old order.

    Raises as `solve` does.
    """
    work = _effort(seconds, workers=workers, seed=seed, limit=effort)
    return _most_points(night_of(plan, night, now), work, plan.turns)


def night_of(plan: MeetingPlan, night: Night, now: int) -> Night:
    """Return the night that `replan` plans, for a check of what it returns."""
    begun = _kept(plan.turns, replace(night, now=0), now)
    return replace(night, now=now, begun=begun)


def _effort(seconds: float, *, workers: int, seed: int, limit: float | None) -> Effort:
    return Effort(
        moves=round(seconds * MOVES_A_SECOND),
        rounds=ROUNDS_AT_LEAST + round(seconds * ROUNDS_A_SECOND),
        seconds=seconds * SOLVER_SHARE,
        workers=workers,
        seed=seed,
        limit=limit,
    )


def _kept(old: Sequence[Turn], night: Night, now: int) -> tuple[Turn, ...]:
    """Return what has begun: as the night tells, and of the old plan what agrees."""
    kept = list(night.begun)
    told = {(turn.student, turn.task) for turn in kept}
    for turn in old:
        if turn.start >= now or (turn.student, turn.task) in told:
            continue
        wrong = turn_faults([*kept, turn], night)
        if all(fault.kind in SINCE_LEARNT for fault in wrong):
            kept.append(turn)
    return tuple(kept)


def _most_points(night: Night, work: Effort, old: Sequence[Turn]) -> MeetingPlan:
    _refuse(night)
    queue = Queue(night)
    orders = [first_order(queue), *([queue.order_of(old)] if old else [])]
    anyhow = [-1] * len(queue.steps)
    order = max(orders, key=lambda order: queue.serve(order, anyhow).points)
    served = annealed(queue, order, moves=work.moves, seed=work.seed)
    turns = tightened(night, queue.turns(served))
    value = worth(night, turns)
    bound = most_points(night, reached=value, rounds=work.rounds)
    if value < bound:
        model = build(night, most=bound)
        hint(model, turns)
        prove = len(model.placed) <= PROVABLE_STEPS
        solver, is_found = _run(model, work, prove=prove)
        if is_found:
            found = tightened(night, turns_of(model, solver))
            turns = max(turns, found, key=lambda turns: worth(night, turns))
            value = worth(night, turns)
            bound = min(bound, floor(solver.best_objective_bound + 0.5))
    bound = max(bound, value)
    return MeetingPlan(turns=turns, value=value, bound=bound, is_proven=value == bound)


def _last_end(night: Night, work: Effort) -> MeetingPlan:
    _refuse(night)
    model = build(night, last_end=True)
    if len(model.placed) + len(night.begun) < len(night.task_by_key):
        raise MeetingError("not every step can end in the meeting")
    queue = Queue(night)
    hint(model, queue.turns(queue.serve(first_order(queue), [-1] * len(queue.steps))))
    solver, is_found = _run(model, replace(work, seconds=work.seconds / SOLVER_SHARE))
    if not is_found:
        raise MeetingError("no plan has every step end in the meeting")
    turns = turns_of(model, solver)
    value = max((turn.end for turn in turns), default=0)
    bound = ceil(solver.best_objective_bound - 0.5)
    return MeetingPlan(turns=turns, value=value, bound=bound, is_proven=value == bound)


def _refuse(night: Night) -> None:
    wrong = turn_faults(night.begun, replace(night, now=0))
    if wrong:
        raise MeetingError("what has begun can't be so: {fault}", fault=wrong[0])


def _run(
    model: Model, work: Effort, *, prove: bool = True
) -> tuple[cp_model.CpSolver, bool]:
    """Return the solver, and whether it found a plan."""
    solver = cp_model.CpSolver()
    if work.limit is None:
        solver.parameters.max_time_in_seconds = work.seconds
    else:
        # no clock beside it: on a busy computer that would stop the work anywhere
        solver.parameters.max_deterministic_time = work.limit
    solver.parameters.num_workers = work.workers
    solver.parameters.random_seed = work.seed
    if not prove:
        solver.parameters.use_lns_only = True
        solver.parameters.lns_initial_difficulty = NEIGHBOURHOOD
        solver.parameters.lns_initial_deterministic_limit = NEIGHBOURHOOD_WORK
    status = solver.solve(model.cp)
    return solver, status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
