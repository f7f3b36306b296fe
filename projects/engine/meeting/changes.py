"""Keep turns at one unit apart, those with different setups by a change.

After each turn stands a change that turns with the same setup may overlap and others
not. One disjunction for each setup says so; for setups whose turns last as long as a
change at least, two cumulative constraints say it for all of them: with capacity c the
change of the k-th setup takes k and its turns c - k, so a later setup's change and an
earlier one's turn exceed c; the second constraint has them in the other order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ortools.sat.python import cp_model

from projects.engine.meeting.records import Way

Expression = Any  # OR-Tools has no one name for a variable, a sum or a number


@dataclass(frozen=True, kw_only=True)
class Use:
    """Hold a turn that a unit may have: `taken` says whether."""

    way: Way
    start: Expression
    taken: Expression
    interval: Any


@dataclass
class _Setup:
    turns: list[Any] = field(default_factory=list)
    changes: list[Any] = field(default_factory=list)
    shortest: int = 0


def keep_apart(cp: cp_model.CpModel, change: int, uses: Sequence[Use]) -> None:
    """Add what keeps turns apart by a change of so many minutes, where it is due."""
    shared: dict[str, _Setup] = {}
    alone: list[Any] = []
    for use in uses:
        if not use.way.setup:
            alone.append(_interval(cp, use, 0, use.way.minutes + change))
            continue
        setup = shared.setdefault(use.way.setup, _Setup(shortest=use.way.minutes))
        setup.turns.append(use.interval)
        setup.changes.append(_interval(cp, use, use.way.minutes, change))
        setup.shortest = min(setup.shortest, use.way.minutes)
    turns = [turn for setup in shared.values() for turn in setup.turns]
    cp.add_no_overlap([*turns, *alone])
    short = [setup for setup in shared.values() if setup.shortest < change]
    long = [setup for setup in shared.values() if setup.shortest >= change]
    rest = alone + [turn for setup in short for turn in setup.turns]
    if long:
        _all_at_once(cp, long, rest)
        _all_at_once(cp, long[::-1], rest)
    for setup in short:  # their changes may overlap, so each has its own
        others = alone + [
            turn
            for other in shared.values()
            if other is not setup
            for turn in other.turns
        ]
        count = len(setup.changes)
        demands = [1] * count + [count] * len(others)
        cp.add_cumulative([*setup.changes, *others], demands, count)


def _interval(cp: cp_model.CpModel, use: Use, after: int, minutes: int) -> Any:
    return cp.new_optional_fixed_size_interval_var(
        use.start + after, minutes, use.taken, ""
    )


def _all_at_once(
    cp: cp_model.CpModel, setups: Sequence[_Setup], rest: Sequence[Any]
) -> None:
    capacity = 2 * len(setups) + 2
    intervals, demands = list(rest), [capacity] * len(rest)
    for k, setup in enumerate(setups, start=1):
        intervals += [*setup.changes, *setup.turns]
        demands += [k] * len(setup.changes) + [capacity - k] * len(setup.turns)
    cp.add_cumulative(intervals, demands, capacity)
