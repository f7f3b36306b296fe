"""The rules of a meeting as constraints for CP-SAT.

Each step is an interval that may be left out; those of one student follow each other;
those at a machine don't exceed its lanes; where setups count, each unit has its own
intervals (see `changes`). Besides stands what follows from these but the solver sees
late: no machine works for more minutes than it has, no student either.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from ortools.sat.python import cp_model

from projects.engine.meeting.changes import Expression, Use, keep_apart
from projects.engine.meeting.credit import step_credit, worth
from projects.engine.meeting.records import (
    Machine,
    Night,
    Student,
    Turn,
    Way,
    in_order,
    setup_of,
)
from projects.engine.meeting.room import Open, closes, in_lanes, lanes, open_steps


@dataclass(frozen=True, kw_only=True)
class Choice:
    """Hold one way to do a step, at a unit where that counts, and if it is taken."""

    way: Way
    unit: int | None
    taken: Expression
    interval: Any


@dataclass(frozen=True, kw_only=True)
class Placed:
    """Hold a step's variables; one that is left out ends with the meeting."""

    step: Open
    start: Expression
    end: Expression
    present: Expression
    choices: tuple[Choice, ...]


@dataclass(frozen=True, kw_only=True)
class Model:
    """Hold what CP-SAT is given, and the steps by student and key."""

    night: Night
    cp: cp_model.CpModel
    placed: dict[tuple[str, str], Placed]
    must: bool


def build(night: Night, *, most: int | None = None, last_end: bool = False) -> Model:
    """Return the model of a night: most points, or all steps and an early last end.

    `most` are points that no plan is above, where that is known.
    """
    cp = cp_model.CpModel()
    placed = {
        (step.student, step.task): _place(cp, night, step, must=last_end)
        for step in open_steps(night)
    }
    model = Model(night=night, cp=cp, placed=placed, must=last_end)
    for student in night.students:
        _one_after_the_other(model, student)
    for machine in night.machines:
        _at_machine(model, machine)
    if last_end:
        _want_early_end(model)
    else:
        _want_points(model, most)
    return model


def _place(cp: cp_model.CpModel, night: Night, step: Open, *, must: bool) -> Placed:
    name = f"{step.student} {step.task}"
    options = list(_options(night, step))
    present = cp.new_constant(1) if must else cp.new_bool_var(name)
    if len(options) == 1:
        minutes: Expression = options[0][0].minutes
        taken = [present]
    else:
        every = cp_model.Domain.from_values([way.minutes for way, _ in options])
        minutes = cp.new_int_var_from_domain(every, name)
        taken = [cp.new_bool_var(f"{name} {n}") for n in range(len(options))]
        cp.add(sum(taken) == present)
    least = min(way.minutes for way, _ in options)
    start = cp.new_int_var(step.head, night.minutes - least, name)
    choices = []
    for (way, unit), literal in zip(options, taken, strict=True):
        interval = cp.new_optional_fixed_size_interval_var(
            start, way.minutes, literal, name
        )
        if len(options) > 1:
            cp.add(minutes == way.minutes).only_enforce_if(literal)
        last = closes(night, way.machine) - way.minutes
        if last < night.minutes - least:
            cp.add(start <= last).only_enforce_if(literal)
        choices.append(Choice(way=way, unit=unit, taken=literal, interval=interval))
    if not must:
        cp.add(start + minutes == night.minutes).only_enforce_if(~present)
    return Placed(
        step=step,
        start=start,
        end=start + minutes,
        present=present,
        choices=tuple(choices),
    )


def _options(night: Night, step: Open) -> Iterator[tuple[Way, int | None]]:
    """Give each way, and where its machine's setups count, each unit it can be at."""
    for way in step.ways:
        machine = night.machine_by_key.get(way.machine or "")
        if machine is not None and machine.changes:
            for unit in range(machine.units):
                yield way, unit
        else:
            yield way, None


def _one_after_the_other(model: Model, student: Student) -> None:
    own = {key: p for (who, key), p in model.placed.items() if who == student.key}
    for step in own.values():
        for first in (own[key] for key in step.step.after if key in own):
            model.cp.add_implication(step.present, first.present)
            follows = model.cp.add(step.start >= first.end)
            follows.only_enforce_if(step.present)
    if own:
        free = min(step.step.head for step in own.values())
        work = sum(
            c.way.minutes * c.taken for step in own.values() for c in step.choices
        )
        model.cp.add(work <= model.night.minutes - free)
    if student.before is not None:
        every = [choice.interval for step in own.values() for choice in step.choices]
        model.cp.add_no_overlap(every)


def _at_machine(model: Model, machine: Machine) -> None:
    begun = [turn for turn in model.night.begun if turn.machine == machine.key]
    at = in_lanes(machine, begun)
    here = [
        (step, choice)
        for step in model.placed.values()
        for choice in step.choices
        if choice.way.machine == machine.key
    ]
    if machine.changes:
        for unit in range(machine.units):
            before = [turn for turn, lane in at if lane == unit]
            there = [(step, c) for step, c in here if c.unit == unit]
            _at_unit(model, machine, before, there)
        return
    if not here:
        return
    running = [turn for turn, _ in at if turn.end > model.night.now]
    intervals = [choice.interval for _, choice in here]
    intervals += [_fixed(model.cp, turn) for turn in running]
    if lanes(machine) == 1:
        model.cp.add_no_overlap(intervals)
    else:
        model.cp.add_cumulative(intervals, [1] * len(intervals), lanes(machine))
    taken = sum(choice.way.minutes * choice.taken for _, choice in here)
    left = lanes(machine) * (closes(model.night, machine.key) - model.night.now)
    model.cp.add(taken <= left - sum(turn.end - model.night.now for turn in running))


def _fixed(cp: cp_model.CpModel, turn: Turn) -> cp_model.IntervalVar:
    return cp.new_fixed_size_interval_var(turn.start, turn.end - turn.start, "")


def _at_unit(
    model: Model,
    machine: Machine,
    before: list[Turn],
    here: list[tuple[Placed, Choice]],
) -> None:
    """Keep turns at one unit apart, those with different setups by a change."""
    cp, night = model.cp, model.night
    opens, setup = night.now, None
    if before:
        last = max(before, key=lambda turn: turn.end)
        opens, setup = last.end, setup_of(night, last)
    for step, choice in here:
        ready = opens
        if setup is not None and not _shared(setup, choice.way.setup):
            ready += machine.setup_minutes
        if ready > step.step.head:
            cp.add(step.start >= ready).only_enforce_if(choice.taken)
    uses = [
        Use(
            way=choice.way,
            start=step.start,
            taken=choice.taken,
            interval=choice.interval,
        )
        for step, choice in here
    ]
    keep_apart(cp, machine.setup_minutes, uses)


def _shared(one: str, other: str) -> bool:
    return one == other != ""


def _want_points(model: Model, most: int | None) -> None:
    night = model.night
    points: list[Expression] = [worth(night, night.begun)]
    for student in night.students:
        own = [p for (who, _), p in model.placed.items() if who == student.key]
        done = student.done + sum(t.student == student.key for t in night.begun)
        counted: list[Expression] = [step.present for step in own]
        if student.before is not None:
            counted = [model.cp.new_bool_var("") for _ in own]
            model.cp.add(sum(counted) == sum(step.present for step in own))
        for k, literal in enumerate(counted, start=done + 1):
            points.append(step_credit(night.minutes, k) * literal)
        points += [night.minutes - step.end for step in own]
    if most is not None:
        model.cp.add(sum(points) <= most)
    model.cp.maximize(sum(points))


def _want_early_end(model: Model) -> None:
    last = model.cp.new_int_var(0, model.night.minutes, "last end")
    for step in model.placed.values():
        model.cp.add(last >= step.end)
    for turn in model.night.begun:
        model.cp.add(last >= turn.end)
    model.cp.minimize(last)


def hint(model: Model, turns: Iterable[Turn]) -> None:
    """Tell CP-SAT of a plan to start from."""
    given = {(turn.student, turn.task): turn for turn in turns}
    for key, step in model.placed.items():
        turn = given.get(key)
        if not model.must:
            model.cp.add_hint(step.present, turn is not None)
        if turn is not None:
            model.cp.add_hint(step.start, turn.start)
        if len(step.choices) > 1:
            for choice in step.choices:
                model.cp.add_hint(choice.taken, turn is not None and _is(choice, turn))


def _is(choice: Choice, turn: Turn) -> bool:
    return choice.way.machine == turn.machine and choice.unit in {None, turn.unit}


def turns_of(model: Model, solver: cp_model.CpSolver) -> tuple[Turn, ...]:
    """Return what CP-SAT found as turns, after those that have begun."""
    turns = list(model.night.begun)
    for step in model.placed.values():
        start = solver.value(step.start)
        turns += [
            Turn(
                student=step.step.student,
                task=step.step.task,
                machine=choice.way.machine,
                unit=choice.unit,
                start=start,
                end=start + choice.way.minutes,
            )
            for choice in step.choices
            if solver.boolean_value(choice.taken)
        ]
    for machine in model.night.machines:
        at = [turn for turn in turns if turn.machine == machine.key]
        turns = [turn for turn in turns if turn.machine != machine.key]
        turns += [
            replace(turn, unit=lane // machine.most_people)
            for turn, lane in in_lanes(machine, at)
        ]
    return in_order(turns)
