"""Is a dry assembly square: the frame its diagonals cross, and what they tell."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import Axis, Distance, Face, Part
from projects.engine.units import mm_per

OFF_DIAGONAL_IN = Fraction(1, 2)
"""How far off the solved frame's a diagonal may be before a second look [in].

Source: common practice, no source (a tape hooked at the wrong corner is off by more).
"""


@dataclass(frozen=True, kw_only=True)
class Frame:
    """Hold the frame whose diagonals are compared on the dry assembly.

    A distance lies between its `sides`; the inside faces of `closed_by`, the low part
    first, make the corners with them. Where no two parts close it that is None, and the
    corners are the sides' own ends. `diagonal_mm` [mm] is how long both diagonals are
    once it is square; None where the plan doesn't say.
    """

    sides: tuple[Part, Part]
    closed_by: tuple[Part, Part] | None
    diagonal_mm: float | None

    def is_far_off(self, *diagonals_mm: Fraction) -> bool:
        """Tell whether any of the read `diagonals_mm` [mm] is not of this frame."""
        if self.diagonal_mm is None:
            return False
        most_mm = float(OFF_DIAGONAL_IN * mm_per("in"))
        return any(abs(float(mm) - self.diagonal_mm) > most_mm for mm in diagonals_mm)


def frame_of(
    solution: Solution, distance: Distance, *, axis: Axis, absent: Collection[str]
) -> Frame:
    """Return the frame around `distance`, closed by parts apart on `axis`.

    The parts `absent` aren't on the dry assembly yet. Of the others those that reach
    from side to side count, and of these the two that leave the most room between them:
    a shelf half way up doesn't keep the tape from the corners.
    """
    plan = solution.plan
    sides = plan.part_by_key[distance.start.part], plan.part_by_key[distance.end.part]
    across = [
        part
        for part in plan.parts
        if part.key not in absent and _reaches(solution, distance, part)
    ]
    room_mm, closed_by = Fraction(0), None
    for low in across:
        for high in across:
            start, end = low.faces_on(axis)[1], high.faces_on(axis)[0]
            mm = _between_mm(solution, start, end)
            if mm is not None and mm > room_mm:
                room_mm, closed_by = mm, (low, high)
    height_mm = room_mm if closed_by else _open_mm(solution, sides, axis)
    width_mm = solution.distances[distance.key]
    known = width_mm is not None and height_mm is not None
    return Frame(
        sides=sides,
        closed_by=closed_by,
        diagonal_mm=math.hypot(width_mm or 0, height_mm or 0) if known else None,
    )


def _between_mm(solution: Solution, start: Face, end: Face) -> Fraction | None:
    form = solution.system.between(start, end)
    return None if form is None else form.value(solution.values)


def _reaches(solution: Solution, distance: Distance, part: Part) -> bool:
    """Tell whether a part reaches over all of a distance, from side to side."""
    low, high = part.faces_on(distance.start.axis)
    before = _between_mm(solution, distance.start, low)
    after = _between_mm(solution, distance.end, high)
    return before is not None and after is not None and before <= 0 <= after


def _open_mm(
    solution: Solution, sides: tuple[Part, Part], axis: Axis
) -> Fraction | None:
    """Return how long the sides are [mm]; None where their ends don't lie level."""
    (low, high), (other_low, other_high) = (side.faces_on(axis) for side in sides)
    for one, other in ((low, other_low), (high, other_high)):
        if _between_mm(solution, one, other) != 0:
            return None
    return _between_mm(solution, low, high)


@dataclass(frozen=True, kw_only=True)
class Skew:
    """Hold how far out of square a frame is, from its two diagonals [mm].

    One corner leans by `lean_mm` [mm] over the height; both diagonals are
    `square_mm` [mm] long once it is square, so the `longer` has to give
    `pull_mm` [mm].
    """

    longer: Literal["first", "second", "neither"]
    lean_mm: Fraction
    square_mm: float
    pull_mm: float


def skew(*, first_mm: Fraction, second_mm: Fraction, width_mm: Fraction) -> Skew:
    """Return how far out of square a frame of four sides is.

    `first_mm` and `second_mm` [mm] are its diagonals, `width_mm` [mm] its width across;
    opposite sides are taken as equally long. Clamp across the longer diagonal until
    both are alike. Raises `EngineError` for lengths that make no such frame.

    Source: the law of cosines on both diagonals of a parallelogram: d1^2 - d2^2 is four
    times the width times the lean, and d1^2 + d2^2 the same square or not.
    """
    if min(first_mm, second_mm, width_mm) <= 0:
        raise EngineError("diagonals and width must be above 0")
    lean_mm = abs(first_mm**2 - second_mm**2) / (4 * width_mm)
    square_mm = math.sqrt((first_mm**2 + second_mm**2) / 2)
    if width_mm >= square_mm:
        raise EngineError("the diagonals must be longer than the width")
    if first_mm == second_mm:
        longer: Literal["first", "second", "neither"] = "neither"
    else:
        longer = "first" if first_mm > second_mm else "second"
    return Skew(
        longer=longer,
        lean_mm=lean_mm,
        square_mm=square_mm,
        pull_mm=float(max(first_mm, second_mm)) - square_mm,
    )
