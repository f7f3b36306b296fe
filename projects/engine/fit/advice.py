"""What to log next, and readings that deserve a second look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count
from typing import Literal

from projects.engine.fit.solve import Solution
from projects.engine.fit.system import Form, compile_system
from projects.engine.plan.readings import Fact, Reading, Readings, mean_of
from projects.engine.plan.records import Dimension, Plan, Stock
from projects.engine.units import mm_per

POINTS = 3
"""How many points of a stock the next step asks for.

Source: common practice, no source (both ends and the middle of a board).
"""

OFF_PLAN = Fraction(15, 100)
"""How far off its plan value a reading may be before a second look [-]."""

OFF_FACT_IN = Fraction(1, 8)
"""How far off a dry-fit or as-cut reading may be before a second look [in].

15 % of a long part would let an inch misread on the tape pass.
Source: common practice, no source.
"""

SPREAD_IN = Fraction(1, 32)
"""How far apart points of one board or distance may be before a second look [in].

Source: common practice, no source.
"""

ENDS = 2
"""At how many ends a distance on the dry assembly is measured."""

Kind = Literal["stock", "part", "distance", "cut", "diagonal"]


@dataclass(frozen=True, kw_only=True)
class Target:
    """Name what a reading is of: `key` of a stock, part or distance.

    A diagonal is one of the two of the dry assembly, named by the distance that is its
    width; it says nothing about sizes. `dimension` is set for a cut. `text` and `parse`
    give it one form for a web page.
    """

    kind: Kind
    key: str
    dimension: Dimension | None = None

    def __str__(self) -> str:
        end = f".{self.dimension}" if self.dimension else ""
        return f"{self.kind}:{self.key}{end}"

    @property
    def fact(self) -> Fact | None:
        """The fact a reading of this states; None for thicknesses and diagonals."""
        if self.kind == "distance":
            return Fact(kind="distance", key=self.key)
        if self.kind == "cut":
            return Fact(kind="cut", key=self.key, dimension=self.dimension)
        return None


def points_of(target: Target, readings: Readings) -> tuple[Reading, ...]:
    """Return the readings that stand for a target now."""
    if target.kind == "stock":
        return readings.stock.get(target.key, ())
    if target.kind == "part":
        return readings.parts.get(target.key, ())
    if target.kind == "distance" and target.key in readings.distance_points:
        return readings.distance_points[target.key]
    fact = target.fact
    return (readings.facts[fact],) if fact and fact in readings.facts else ()


def free_point(readings: Sequence[Reading]) -> int:
    """Return the first place that none of these readings was taken at.

    One that was set aside leaves its place free. Readings of a file, which names no
    places, count from the first.
    """
    taken = {reading.point for reading in readings}
    if len(taken) < len(readings):
        return len(readings) + 1
    return next(point for point in count(1) if point not in taken)


def expected_mm(target: Target, solution: Solution) -> Fraction | None:
    """Return what a reading should come near [mm]; None where nothing says.

    What a diagonal should be isn't worked out.

    What was read of the same thing before doesn't count, so that a misreading
    doesn't speak against the right value.
    """
    plan = solution.plan
    if target.kind == "stock":
        return plan.stock_by_key[target.key].thickness.mm
    if target.kind == "part":
        return plan.stock_by_key[plan.part_by_key[target.key].stock].thickness.mm
    if target.kind == "diagonal":
        return None
    others = tuple(fact for fact in solution.system.facts if fact != target.fact)
    system = compile_system(plan, others)
    if target.kind == "distance":
        form = system.distances[target.key]
        return form.value(solution.values) if form else None
    return system.sizes[target.key, target.dimension or "length"].value(solution.values)


@dataclass(frozen=True, kw_only=True)
class SecondLook:
    """Say why a reading deserves one: `off_plan`, `spread` or `ends`.

    `expected_mm` [mm] is what it was held against: the plan's value, the other point
    it is furthest from, or the other end. `off_mm` [mm] is how far off that it is.
    """

    why: Literal["off_plan", "spread", "ends"]
    expected_mm: Fraction
    off_mm: Fraction


def second_looks(
    mm: Fraction,
    *,
    expected_mm: Fraction | None,
    others: Sequence[Reading] = (),
    is_fact: bool = False,
) -> tuple[SecondLook, ...]:
    """Return why a reading of `mm` [mm] deserves a second look; empty if it doesn't.

    `others` are the other points of the same board, or what was read at the other end.
    A fact is a distance on the dry assembly or a size as cut: it is held closer than a
    thickness.
    """
    looks = []
    if expected_mm is not None and abs(mm - expected_mm) > _allowed_mm(
        expected_mm, is_fact=is_fact
    ):
        off_mm = abs(mm - expected_mm)
        looks.append(SecondLook(why="off_plan", expected_mm=expected_mm, off_mm=off_mm))
    furthest = max(
        (other.length.mm for other in others),
        key=lambda other_mm: abs(other_mm - mm),
        default=mm,
    )
    off_mm = abs(furthest - mm)
    if off_mm > SPREAD_IN * mm_per("in"):
        why: Literal["ends", "spread"] = "ends" if is_fact else "spread"
        looks.append(SecondLook(why=why, expected_mm=furthest, off_mm=off_mm))
    return tuple(looks)


def _allowed_mm(expected_mm: Fraction, *, is_fact: bool) -> Fraction:
    share_mm = OFF_PLAN * expected_mm
    return min(share_mm, OFF_FACT_IN * mm_per("in")) if is_fact else share_mm


@dataclass(frozen=True, kw_only=True)
class Next:
    """Hold the next thing to log; `target` is None where nothing is left.

    `in_doubt` where it was logged and others contradict it: nothing is cut before.

    `fitted` are the parts that may be cut only after it, `before` those to have
    ready for the dry assembly. `cut_now` are the keys of fitted parts that no longer
    wait and aren't logged as cut. A distance is asked for at one end, then at the
    other, `point`: nothing is cut to one end alone.
    """

    target: Target | None
    in_doubt: bool = False
    point: int = 1
    before: tuple[str, ...] = ()
    fitted: tuple[str, ...] = ()
    cut_now: tuple[str, ...] = ()


def next_to_log(solution: Solution) -> Next:
    """Return what the student logs next: what is in doubt, each stock, the dry fit."""
    plan = solution.plan
    for doubt in solution.in_doubt:
        if not doubt.agrees:
            fact = doubt.fact
            target = Target(kind=fact.kind, key=fact.key, dimension=fact.dimension)
            return Next(target=target, in_doubt=True)
    for stock in plan.stock:
        have = solution.readings.stock.get(stock.key, ())
        parts = [part for part in plan.parts if part.stock == stock.key]
        own = all(solution.readings.parts.get(part.key) for part in parts)
        if len(have) < POINTS and parts and not own:
            target = Target(kind="stock", key=stock.key)
            return Next(target=target, point=free_point(have))
    waiting = {part for part, _ in solution.system.waiting}
    for key in solution.waiting_for:
        fitted = {
            part for (part, _), keys in solution.system.waiting.items() if key in keys
        }
        return Next(
            target=Target(kind="distance", key=key),
            point=missing_end(key, solution.readings) or 1,
            before=tuple(p.name for p in plan.parts if p.key not in waiting),
            fitted=tuple(p.name for p in plan.parts if p.key in fitted),
        )
    facts = solution.readings.facts
    cut = {fact.key for fact in facts if fact.kind == "cut"}
    fits = [key for distance in plan.distances for key in distance.fits]
    return Next(target=None, cut_now=tuple(key for key in fits if key not in cut))


def measured_at(plan: Plan, key: str, ends: tuple[Reading, ...]) -> Reading | None:
    """Return what a distance read at these `ends` is taken to be: their mean.

    None for a distance on the dry assembly that was read at one end alone: a bowed or
    slipped part shows only at the other, so nothing is cut to one.
    """
    if plan.distance_by_key[key].dry_fit and len(ends) < ENDS:
        return None
    return mean_of(ends)


def missing_end(key: str, readings: Readings) -> int | None:
    """Return the end a distance is still to be measured at, 1 or 2.

    None where nothing was measured yet, and where both ends were or one value stands
    for both.
    """
    read = {point.point for point in readings.distance_points.get(key, ())}
    missing = [end for end in range(1, ENDS + 1) if end not in read]
    return missing[0] if read and missing else None


def hangs_on(solution: Solution, form: Form) -> tuple[Stock, ...]:
    """Return the stock that a size hangs on and nobody has measured yet."""
    plan, readings = solution.plan, solution.readings
    keys = {
        plan.part_by_key[item.key].stock
        for _, item in form.terms
        if item.kind == "thickness" and not readings.of_part(plan, item.key)
    }
    return tuple(stock for stock in plan.stock if stock.key in keys)
