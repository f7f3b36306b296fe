"""Solve a plan once for a set of facts: every size as a sum over the inputs.

What is kept and what gives depends only on which quantities are facts and in what
order they are believed, never on their values: an equation that is independent of
those kept is always kept, one that is dependent changes nothing whether it agrees
or not. So the forms below serve every student with the same facts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property, lru_cache

from projects.engine.errors import EngineError, PlanError, raise_all
from projects.engine.fit.elimination import Combination, Elimination
from projects.engine.fit.equations import (
    Equation,
    FaceRow,
    Input,
    difference,
    extent,
    fact_equation,
    structure,
    wanted,
)
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import (
    AXES,
    DIMENSIONS,
    Axis,
    Dimension,
    Face,
    Part,
    Plan,
)

SizeKey = tuple[str, Dimension]


@dataclass(frozen=True, kw_only=True)
class Form:
    """Hold a size as a sum: each coefficient [-] times one input [mm]."""

    terms: tuple[tuple[Fraction, Input], ...]

    def value(self, values: Mapping[Input, Fraction]) -> Fraction:
        """Return the sum for these values [mm]."""
        return sum((c * values[item] for c, item in self.terms), Fraction(0))

    def plus(self, other: Form, *, times: Fraction = Fraction(1)) -> Form:
        """Return this sum plus `times` [-] another; terms that cancel go."""
        total = {item: c for c, item in self.terms}
        for c, item in other.terms:
            total[item] = total.get(item, Fraction(0)) + times * c
        return Form(terms=tuple((c, item) for item, c in total.items() if c))

    def coefficient(self, item: Input) -> Fraction:
        """Return how much the sum grows where `item` grows by 1 [-]."""
        return next((c for c, of in self.terms if of == item), Fraction(0))


@dataclass(frozen=True, kw_only=True)
class Dependent:
    """Hold an equation that says nothing new: what the others make of its row.

    It holds exactly where `form` equals its input (or 0). `names` are the kept
    equations that form the loop with it.
    """

    equation: Equation
    form: Form
    names: tuple[str, ...]

    def off_mm(self, values: Mapping[Input, Fraction]) -> Fraction:
        """Return what it states minus what the others make it [mm]."""
        item = self.equation.input
        stated = values[item] if item else Fraction(0)
        return stated - self.form.value(values)


class _Builder:
    """Keep equations one by one; remember the inputs of those kept."""

    def __init__(self, basis: Elimination[Face], kept: list[Equation]) -> None:
        self.basis, self.kept = basis, kept

    def copy(self) -> _Builder:
        return _Builder(self.basis.copy(), list(self.kept))

    def add(self, equation: Equation) -> Dependent | None:
        combination = self.basis.add(len(self.kept), equation.row)
        if combination is None:
            self.kept.append(equation)
            return None
        names = tuple(self.kept[n].name for n in sorted(combination))
        return Dependent(equation=equation, form=self.form(combination), names=names)

    def form(self, combination: Combination) -> Form:
        terms = [
            (combination[n], item)
            for n in sorted(combination)
            if (item := self.kept[n].input) is not None
        ]
        return Form(terms=tuple(terms))

    def express(self, row: FaceRow) -> Form | None:
        combination = self.basis.express(row)
        return None if combination is None else self.form(combination)


@dataclass(frozen=True, kw_only=True, eq=False)
class System:
    """Hold a plan solved for `facts`, the one believed first standing first.

    `sizes` has a form for each part and dimension, `distances` one for each distance
    (None where nothing fixes one that waits for the dry fit). `loops` are the
    structural equations that must agree, `doubtful` the facts that others decide;
    `known` keeps what `between` worked out.
    """

    plan: Plan
    facts: tuple[Fact, ...]
    sizes: Mapping[SizeKey, Form]
    distances: Mapping[str, Form | None]
    loops: tuple[Dependent, ...]
    doubtful: tuple[Dependent, ...]
    builder: _Builder
    known: dict[tuple[Face, Face], Form | None] = field(default_factory=dict)

    @cached_property
    def positions(self) -> dict[Face, Form]:
        """The position of every face, one face an axis and assembly put at 0."""
        builder = self.builder.copy()
        for axis in AXES:
            for part in self.plan.parts:
                low, _ = part.faces_on(axis)
                builder.add(
                    Equation(name=f"{low} at 0", row={low: Fraction(1)}, input=None)
                )
        return {
            face: builder.express({face: Fraction(1)}) or Form(terms=())
            for part in self.plan.parts
            for axis in AXES
            for face in part.faces_on(axis)
        }

    def between(self, start: Face, end: Face) -> Form | None:
        """Return how far `end` is from `start` as a form; None where it isn't fixed."""
        if (start, end) not in self.known:
            self.known[start, end] = self.builder.express(difference(start, end))
        return self.known[start, end]

    @cached_property
    def waiting(self) -> dict[SizeKey, tuple[str, ...]]:
        """The dry-fit distances, not yet measured, that each size waits for.

        A size waits where its sum would hold the measurement once it is a fact;
        where the distance names the parts it `fits`, only theirs do.
        """
        pending = pending_distances(self.plan, self.facts)
        if not pending:
            return {}
        # once measured it will be the newest fact, so it is believed first
        ahead = compile_system(self.plan, pending + self.facts)
        waits: dict[SizeKey, tuple[str, ...]] = {}
        for size, form in ahead.sizes.items():
            keys = [
                fact.key
                for fact in pending
                if form.coefficient(Input(kind="measured", key=fact.key))
                and size[0] in (self.plan.distance_by_key[fact.key].fits or (size[0],))
                and Fact(kind="cut", key=size[0], dimension=size[1]) not in self.facts
            ]
            if keys:
                waits[size] = tuple(keys)
        return waits


def pending_distances(plan: Plan, facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """Return the dry-fit distances of `plan` that `facts` doesn't hold yet."""
    every = (
        Fact(kind="distance", key=distance.key)
        for distance in plan.distances
        if distance.dry_fit
    )
    return tuple(fact for fact in every if fact not in facts)


@lru_cache(maxsize=64)
def _structure(plan: Plan) -> tuple[_Builder, tuple[Dependent, ...]]:
    builder = _Builder(Elimination(), [])
    loops = [builder.add(equation) for equation in structure(plan)]
    # a loop of flush faces and the like has no inputs and always closes
    return builder, tuple(
        loop for loop in loops if loop and (loop.form.terms or loop.equation.input)
    )


def compile_system(plan: Plan, facts: tuple[Fact, ...] = ()) -> System:
    """Return `plan` solved symbolically with `facts` believed in their order.

    Raises `PlanError` or `ProblemsError` naming each size that nothing fixes.
    """
    system = _compiled(plan, facts)
    unfixed = [
        (part, dimension)
        for part in plan.parts
        for dimension in DIMENSIONS
        if (part.key, dimension) not in system.sizes
    ]
    held = _largest_rigid_groups(plan, system.builder) if unfixed else {}
    errors = [_free(part, dimension, held) for part, dimension in unfixed]
    for distance in plan.distances:
        if system.distances[distance.key] is None and not distance.dry_fit:
            errors.append(
                PlanError(
                    "distance {key}: nothing fixes how far {end} is from {start}",
                    key=distance.key,
                    end=distance.end,
                    start=distance.start,
                )
            )
    raise_all(errors)
    return system


def compile_draft(plan: Plan) -> System:
    """Return `plan` solved as far as it goes, with no facts.

    A size that nothing fixes is missing from `sizes`, a distance is None.
    """
    return _compiled(plan, ())


@lru_cache(maxsize=256)
def _compiled(plan: Plan, facts: tuple[Fact, ...]) -> System:
    basis, loops = _structure(plan)
    builder = basis.copy()
    doubts = [builder.add(fact_equation(plan, fact)) for fact in facts]
    for _, equation in wanted(plan):
        builder.add(equation)
    sizes: dict[SizeKey, Form] = {}
    for part in plan.parts:
        for dimension in DIMENSIONS:
            form = builder.express(extent(plan, part, dimension))
            if form is not None:
                sizes[part.key, dimension] = form
    distances = {
        distance.key: builder.express(difference(distance.start, distance.end))
        for distance in plan.distances
    }
    return System(
        plan=plan,
        facts=facts,
        sizes=sizes,
        distances=distances,
        loops=loops,
        doubtful=tuple(doubt for doubt in doubts if doubt),
        builder=builder,
    )


def _free(
    part: Part, dimension: Dimension, held: Mapping[Axis, set[Face]]
) -> EngineError:
    axis = part.axes[dimension]
    free = [face for face in part.faces_on(axis) if face not in held[axis]]
    return PlanError(
        "part {part}: nothing fixes its {dimension} on {axis}; still free: {faces} "
        "(a distance, flush, even or a joint there would fix it)",
        part=part.key,
        dimension=dimension,
        axis=axis,
        faces=", ".join(map(str, free or part.faces_on(axis))),
    )


def _largest_rigid_groups(plan: Plan, builder: _Builder) -> dict[Axis, set[Face]]:
    """Return for each axis the most faces that are fixed against each other."""
    largest: dict[Axis, set[Face]] = {}
    for axis in AXES:
        groups: dict[object, set[Face]] = {}
        for part in plan.parts:
            for face in part.faces_on(axis):
                left = builder.basis.remainder({face: Fraction(1)})
                groups.setdefault(left, set()).add(face)
        largest[axis] = max(groups.values(), key=len)
    return largest
