"""Solve one build: put its values into the forms and tell what follows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from projects.engine.errors import EngineError, PlanError, raise_all
from projects.engine.fit.cuts import joint_cuts
from projects.engine.fit.equations import Input, InputKind, input_name
from projects.engine.fit.system import Form, SizeKey, System, compile_system
from projects.engine.joints import Cuts
from projects.engine.plan.readings import Fact, Reading, Readings
from projects.engine.plan.records import DIMENSIONS, Plan
from projects.engine.units import exact_text, mm_per
from projects.engine.units.length import UnitSystem

_SAID = {"measured": 0, "cut": 0, "wanted": 1, "thickness": 2, "depth": 3}
"""The order in which the kinds of input are said in a sum."""


@dataclass(frozen=True, kw_only=True)
class Term:
    """Hold one term of a sum: `coefficient` [-] times `mm` [mm], with its name."""

    coefficient: Fraction
    item: Input
    name: str
    mm: Fraction
    unit: UnitSystem

    @property
    def value_text(self) -> str:
        """The exact value with its unit, such as `443/600 in`."""
        return exact_text(self.mm, unit=self.unit)


@dataclass(frozen=True, kw_only=True)
class Doubt:
    """Hold a fact that the others contradict.

    `comes_out_mm` is what the others make of it, `off_mm` the reading minus that.
    `disagrees_with` names the readings it disagrees with. `agrees` where it is off
    by at most one mark of the tape.
    """

    fact: Fact
    name: str
    reading: Reading
    comes_out_mm: Fraction
    off_mm: Fraction
    disagrees_with: tuple[str, ...]
    agrees: bool


@dataclass(frozen=True, kw_only=True, eq=False)
class Solution:
    """Hold one solved build; all sizes are exact [mm]."""

    plan: Plan
    readings: Readings
    system: System
    values: Mapping[Input, Fraction]
    sizes: Mapping[SizeKey, Fraction]
    distances: Mapping[str, Fraction | None]
    cuts: Mapping[str, Cuts]
    in_doubt: tuple[Doubt, ...]

    @cached_property
    def waiting_for(self) -> tuple[str, ...]:
        """The dry-fit distances not measured yet, in the plan's order."""
        return tuple(
            distance.key
            for distance in self.plan.distances
            if distance.dry_fit
            and Fact(kind="distance", key=distance.key) not in self.readings.facts
        )

    def gives_mm(self, key: str) -> Fraction | None:
        """Return how far over what is wanted it comes out [mm]; None if not wanted."""
        wanted, value = self.plan.distance_by_key[key].value, self.distances[key]
        return None if wanted is None or value is None else value - wanted.mm

    def form(self, size: SizeKey) -> Form:
        """Return the sum a shown size is: its own reading where the part is cut."""
        fact = Fact(kind="cut", key=size[0], dimension=size[1])
        if fact in self.readings.facts:
            cut = Input(kind="cut", key=size[0], dimension=size[1])
            return Form(terms=((Fraction(1), cut),))
        return self.system.sizes[size]

    def terms(self, form: Form) -> tuple[Term, ...]:
        """Return the terms of a form with their names and values, for reading out.

        Distances stand first, then thicknesses, then depths, additions before
        subtractions: `36 overall − 0.742 left side − 0.755 right side + 3/8 + 3/8`.
        """
        ordered = sorted(
            form.terms, key=lambda term: (_SAID[term[1].kind], term[0] < 0)
        )
        return tuple(
            Term(
                coefficient=coefficient,
                item=item,
                name=input_name(self.plan, item),
                mm=self.values[item],
                unit=_unit(self.plan, self.readings, item),
            )
            for coefficient, item in ordered
        )


def solve(plan: Plan, readings: Readings) -> Solution:
    """Return the build of `plan` that `readings` make.

    Raises `PlanError` or `ProblemsError` naming each loop that can't close, size that
    comes out at 0 or less, joint deeper than its host, and size that nothing fixes.
    """
    system = compile_system(plan, tuple(readings.facts))
    values = input_values(plan, readings)
    errors = _loop_errors(system, values)
    sizes = {key: form.value(values) for key, form in system.sizes.items()}
    for fact, reading in readings.facts.items():
        if fact.dimension is not None:
            sizes[fact.key, fact.dimension] = reading.length.mm
    for (part, dimension), mm in sizes.items():
        if mm <= 0:
            errors.append(_no_size(plan, part, dimension, mm))
    cuts: dict[str, Cuts] = {}
    if not errors:
        for joint in plan.joints:
            try:
                cuts[joint.key] = joint_cuts(system, readings, joint, sizes, values)
            except EngineError as error:
                errors.append(error)
    raise_all(errors)
    return Solution(
        plan=plan,
        readings=readings,
        system=system,
        values=values,
        sizes=sizes,
        distances={
            key: form.value(values) if form else None
            for key, form in system.distances.items()
        },
        cuts=cuts,
        in_doubt=_doubts(system, readings, values),
    )


def check_plan(plan: Plan) -> Solution:
    """Return `plan` solved at its nominal sizes, or raise what is wrong with it.

    Raises what `solve` raises, and `PlanError` for a part in `fits` whose size does
    not depend on that distance.
    """
    solution = solve(plan, Readings())
    # what pages and drawings will ask for is worked out now, or refused now
    solution.system.positions  # noqa: B018
    for distance in plan.distances:
        for part in distance.fits:
            if not any(
                distance.key in solution.system.waiting.get((part, dimension), ())
                for dimension in DIMENSIONS
            ):
                raise PlanError(
                    "distance {key}: fits names {part}, but no size of {part} depends "
                    "on this distance",
                    key=distance.key,
                    part=part,
                )
    return solution


def input_values(plan: Plan, readings: Readings) -> dict[Input, Fraction]:
    """Return the value of every input [mm]: readings first, else the plan's."""
    values: dict[Input, Fraction] = {}
    for part in plan.parts:
        points = readings.of_part(plan, part.key)
        values[Input(kind="thickness", key=part.key)] = (
            sum((point.length.mm for point in points), Fraction(0)) / len(points)
            if points
            else plan.stock_by_key[part.stock].thickness.mm
        )
    for joint in plan.joints:
        if joint.depth.length is not None:
            values[Input(kind="depth", key=joint.key)] = joint.depth.length.mm
    for distance in plan.distances:
        if distance.value is not None:
            values[Input(kind="wanted", key=distance.key)] = distance.value.mm
    for fact, reading in readings.facts.items():
        values[fact_input(fact)] = reading.length.mm
    return values


def fact_input(fact: Fact) -> Input:
    """Return the input a fact gives the value of."""
    kind: InputKind = "measured" if fact.kind == "distance" else "cut"
    return Input(kind=kind, key=fact.key, dimension=fact.dimension)


def _unit(plan: Plan, readings: Readings, item: Input) -> UnitSystem:
    """Return the unit a value was said in; the plan's where its readings differ."""
    if item.kind == "thickness":
        stock = plan.stock_by_key[plan.part_by_key[item.key].stock]
        points = readings.of_part(plan, item.key)
        said = {point.length.unit for point in points} or {stock.thickness.unit}
        return said.pop() if len(said) == 1 else plan.units
    if item.kind == "depth":
        depth = plan.joint_by_key[item.key].depth.length
        return depth.unit if depth else plan.units
    if item.kind == "wanted":
        value = plan.distance_by_key[item.key].value
        return value.unit if value else plan.units
    return next(
        reading.length.unit
        for fact, reading in readings.facts.items()
        if fact_input(fact) == item
    )


def _loop_errors(system: System, values: Mapping[Input, Fraction]) -> list[EngineError]:
    return [
        PlanError(
            "the plan contradicts itself: {loop} can't all hold; it fails by {by}",
            loop=", ".join((*loop.names, loop.equation.name)),
            by=exact_text(abs(off), unit=system.plan.units),
        )
        for loop in system.loops
        if (off := loop.off_mm(values))
    ]


def _no_size(plan: Plan, part: str, dimension: str, mm: Fraction) -> EngineError:
    return PlanError(
        "part {part}: its {dimension} comes out at {size}, but must be above 0",
        part=part,
        dimension=dimension,
        size=exact_text(mm, unit=plan.units),
    )


def _doubts(
    system: System, readings: Readings, values: Mapping[Input, Fraction]
) -> tuple[Doubt, ...]:
    plan = system.plan
    by_input = {fact_input(fact): fact for fact in readings.facts}
    mark_mm = Fraction(1, plan.tape) * mm_per("in")
    doubts = []
    for doubtful in system.doubtful:
        off_mm = doubtful.off_mm(values)
        if not off_mm or doubtful.equation.input is None:
            continue
        fact = by_input[doubtful.equation.input]
        doubts.append(
            Doubt(
                fact=fact,
                name=input_name(plan, doubtful.equation.input),
                reading=readings.facts[fact],
                comes_out_mm=doubtful.form.value(values),
                off_mm=off_mm,
                disagrees_with=_read_inputs(plan, readings, doubtful.form),
                agrees=abs(off_mm) <= mark_mm,
            )
        )
    return tuple(doubts)


def _read_inputs(plan: Plan, readings: Readings, form: Form) -> tuple[str, ...]:
    """Return the names of those inputs of a form that somebody measured."""
    return tuple(
        input_name(plan, item)
        for _, item in form.terms
        if item.kind in ("measured", "cut")
        or (item.kind == "thickness" and readings.of_part(plan, item.key))
    )
