"""A part that came out wrong: what it changes, and the ways out side by side."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from dataclasses import dataclass, replace
from fractions import Fraction

from projects.engine.errors import EngineError
from projects.engine.fit.equations import wanted
from projects.engine.fit.solve import Solution, fact_input, solve
from projects.engine.fit.system import SizeKey
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import DIMENSIONS, Dimension, Distance, Part, Plan
from projects.engine.units import mm_per

TRIM_LENGTH_IN = Fraction(1)
TRIM_WIDTH_IN = Fraction(1, 4)
"""What a blank is longer and wider than the part to be cut from it [in].

Source: milling allowances of 1/2 to 1 in and 1/4 in; I. S. Griffith, Advanced Projects
in Woodwork (1912), bill of material, and common practice, no source.
"""


@dataclass(frozen=True, kw_only=True)
class Change:
    """Hold a size of a part not cut yet, before the miscut and with it [mm]."""

    part: Part
    dimension: Dimension
    before_mm: Fraction
    after_mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Giving:
    """Hold a wanted distance and what it comes out as [mm]."""

    distance: Distance
    before_mm: Fraction
    after_mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """Hold what follows from a state of a build: sizes that change, distances too.

    `stuck` are sizes that would change but are marked as cut, though not logged.
    """

    changes: tuple[Change, ...]
    stuck: tuple[Change, ...]
    giving: tuple[Giving, ...]


@dataclass(frozen=True, kw_only=True)
class Blank:
    """Hold the stock that cutting the part again takes [mm], trim included."""

    stock: str
    length_mm: Fraction
    width_mm: Fraction

    def fits_in(self, length_mm: Fraction, width_mm: Fraction) -> bool:
        """Tell whether it can be cut from a piece of these sizes [mm], grain along."""
        return self.length_mm <= length_mm and self.width_mm <= width_mm


@dataclass(frozen=True, kw_only=True)
class LetGive:
    """Hold what follows where `distance` is the one that gives."""

    distance: Distance
    outcome: Outcome


@dataclass(frozen=True, kw_only=True)
class UseAs:
    """Hold a part that the miscut one is still large enough for.

    `trim_length_mm` and `trim_width_mm` [mm] are what comes off it for that.
    """

    part: Part
    trim_length_mm: Fraction
    trim_width_mm: Fraction


@dataclass(frozen=True, kw_only=True)
class Miscut:
    """Hold a size as cut that is not what the sum says, and the ways out.

    `off_mm` [mm] is how far over it came out. `as_it_is` is what follows where nothing
    is done; what then gives is decided by how the plan's distances are held.
    """

    fact: Fact
    part: Part
    wanted_mm: Fraction
    cut_mm: Fraction
    as_it_is: Outcome
    blank: Blank
    let_give: tuple[LetGive, ...]
    use_as: tuple[UseAs, ...]

    @property
    def off_mm(self) -> Fraction:
        """How far over what was wanted it came out [mm]."""
        return self.cut_mm - self.wanted_mm


def off_by_mm(solution: Solution, fact: Fact) -> Fraction | None:
    """Return how far over what the sum says a size came out as cut [mm].

    Exact, and solves nothing anew: with one statement left out, the first of those
    kept out that rests on it comes in, and says what the size should have been. None
    where nothing else says.
    """
    item = fact_input(fact)
    system = solution.system
    for doubtful in system.doubtful:
        if doubtful.equation.input == item:
            return doubtful.off_mm(solution.values)
    for doubtful in system.doubtful:
        if share := doubtful.form.coefficient(item):
            return -doubtful.off_mm(solution.values) / share
    for distance, _ in wanted(solution.plan):
        form, gives_mm = system.distances[distance.key], solution.gives_mm(distance.key)
        if form and gives_mm is not None and (share := form.coefficient(item)):
            return gives_mm / share
    return None


def miscuts(solution: Solution) -> tuple[tuple[Fact, Fraction], ...]:
    """Return the sizes as cut that don't fit, each with how far over it came out [mm].

    They don't fit where they are off by half a mark of the tape or more.
    """
    found = [
        (fact, off_by_mm(solution, fact))
        for fact in solution.readings.facts
        if fact.kind == "cut"
    ]
    return tuple(
        (fact, off)
        for fact, off in found
        if off is not None and not fits(solution.plan, off)
    )


def fits(plan: Plan, off_mm: Fraction) -> bool:
    """Tell whether a size is off by less than half a mark of the tape [mm]."""
    return 2 * plan.tape * abs(off_mm) < mm_per("in")


def miscut(
    solution: Solution, fact: Fact, *, marked: Collection[SizeKey] = ()
) -> Miscut | None:
    """Return what a size as cut changes and the ways out; None where it fits.

    It fits where it is off by less than half a mark of the tape. `marked` are the
    sizes whose steps are marked as done: they count as cut, logged or not. Raises
    `EngineError` where the readings without it contradict each other.
    """
    if fact.dimension is None or fact not in solution.readings.facts:
        raise EngineError("there is no size as cut here")
    before = _without(solution, fact)
    part, size = solution.plan.part_by_key[fact.key], (fact.key, fact.dimension)
    wanted_mm, cut_mm = before.sizes[size], solution.sizes[size]
    if fits(solution.plan, cut_mm - wanted_mm):
        return None
    return Miscut(
        fact=fact,
        part=part,
        wanted_mm=wanted_mm,
        cut_mm=cut_mm,
        as_it_is=_outcome(before, solution, marked),
        blank=_blank(before, part),
        let_give=tuple(_let_give(before, solution, fact, marked)),
        use_as=tuple(_use_as(before, solution, part, marked)),
    )


def _without(solution: Solution, fact: Fact) -> Solution:
    facts = {f: r for f, r in solution.readings.facts.items() if f != fact}
    return solve(solution.plan, replace(solution.readings, facts=facts))


def _outcome(before: Solution, after: Solution, marked: Collection[SizeKey]) -> Outcome:
    cut = {
        (fact.key, fact.dimension)
        for fact in after.readings.facts
        if fact.kind == "cut"
    }
    changes = [
        Change(
            part=part,
            dimension=dimension,
            before_mm=before.sizes[part.key, dimension],
            after_mm=after.sizes[part.key, dimension],
        )
        for part in before.plan.parts
        for dimension in DIMENSIONS
        if (part.key, dimension) not in cut
        and before.sizes[part.key, dimension] != after.sizes[part.key, dimension]
    ]
    giving = []
    for distance in before.plan.distances:
        was, comes = before.distances[distance.key], after.distances[distance.key]
        if distance.value and was is not None and comes is not None and was != comes:
            giving.append(Giving(distance=distance, before_mm=was, after_mm=comes))
    return Outcome(
        changes=tuple(c for c in changes if (c.part.key, c.dimension) not in marked),
        stuck=tuple(c for c in changes if (c.part.key, c.dimension) in marked),
        giving=tuple(giving),
    )


def _blank(before: Solution, part: Part) -> Blank:
    return Blank(
        stock=part.stock,
        length_mm=before.sizes[part.key, "length"] + TRIM_LENGTH_IN * mm_per("in"),
        width_mm=before.sizes[part.key, "width"] + TRIM_WIDTH_IN * mm_per("in"),
    )


def _let_give(
    before: Solution, after: Solution, fact: Fact, marked: Collection[SizeKey]
) -> list[LetGive]:
    """Return what follows for each wanted distance that could give instead.

    Those are the ones in the sum of the size; each is put behind all others in turn.
    """
    form = before.system.sizes[fact.key, fact.dimension or "length"]
    wanted = [item.key for _, item in form.terms if item.kind == "wanted"]
    found = []
    for distance in before.plan.distances:
        if distance.key not in wanted:
            continue
        try:
            solved = solve(given_first(before.plan, distance.key), after.readings)
        except EngineError:
            continue  # with this one given the piece can't be built at all
        outcome = _outcome(before, solved, marked)
        # where others give as well, this is no way of its own
        if [giving.distance.key for giving in outcome.giving] == [distance.key]:
            found.append(LetGive(distance=distance, outcome=outcome))
    return found


def given_first(plan: Plan, key: str) -> Plan:
    """Return the plan with one wanted distance held less than all others."""
    ranks = [d.held for d in plan.distances if d.held is not None and d.key != key]
    after = max(ranks, default=0) + 1
    held = tuple(
        replace(d, held=None if d.key == key else d.held or after)
        if d.value is not None
        else d
        for d in plan.distances
    )
    digest = hashlib.sha256(f"{plan.digest} {key} gives".encode()).hexdigest()
    return replace(plan, distances=held, digest=digest)


def _use_as(
    before: Solution, after: Solution, part: Part, marked: Collection[SizeKey]
) -> list[UseAs]:
    """Return the other parts of its stock that it is large enough for, least waste.

    Not those cut already; one ripped to its width is not, before it is cut off.
    """
    cut = {fact.key for fact in after.readings.facts if fact.kind == "cut"}
    cut |= {key for key, dimension in marked if dimension == "length"}
    length_mm, width_mm = (after.sizes[part.key, d] for d in ("length", "width"))
    found = [
        UseAs(
            part=other,
            trim_length_mm=length_mm - before.sizes[other.key, "length"],
            trim_width_mm=width_mm - before.sizes[other.key, "width"],
        )
        for other in before.plan.parts
        if other.stock == part.stock and other.key not in {*cut, part.key}
    ]
    serving = [u for u in found if u.trim_length_mm >= 0 and u.trim_width_mm >= 0]
    return sorted(serving, key=lambda u: (u.trim_length_mm, u.trim_width_mm))
