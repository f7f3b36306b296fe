"""Where a build stands in its steps, kept by what went in.

The same readings of the same plan, the same steps done and the same sign-offs make the
same stand, so what is kept never grows stale.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from projects import adapters, progress
from projects.engine.errors import EngineError
from projects.engine.fit.solve import solve
from projects.engine.plan.records import Plan
from projects.engine.steps.standing import (
    StepStanding,
    Way,
    in_hand,
    step_standings,
)
from projects.models import Reading


class Said(NamedTuple):
    """What a reading says, without when it was logged and by whom."""

    target: str
    point: int
    mm: Fraction | None
    unit: str
    instrument: str


@dataclass(frozen=True, kw_only=True)
class Place:
    """One step of a build with its number, from 1, and where the build stands with it.

    `way` is how the plan would have it done with what the shop has; None where the
    shop has none of its machines.
    """

    number: int
    standing: StepStanding

    @property
    def way(self) -> Way | None:
        """The first way whose machine the shop has, signed off or not."""
        ways = self.standing.ways
        return next((way for way in ways if way.state != "not_here"), None)

    @property
    def lacks_sign_off(self) -> bool:
        """Tell whether that way waits for a sign-off, though another may be open."""
        return self.way is not None and self.way.state == "not_signed"


@dataclass(frozen=True, kw_only=True)
class Stand:
    """Where a build stands: the step in hand, and the first that isn't done.

    They differ where the first is blocked and a later one is open; both are None where
    all is done. `is_broken` where the readings can't be built; nothing else is known
    then. `doubts` are readings in doubt.
    """

    plan: Plan
    in_hand: Place | None = None
    first: Place | None = None
    done: int = 0
    steps: int = 0
    doubts: int = 0
    is_broken: bool = False


@lru_cache(maxsize=1024)
def stand_of(
    plan: Plan,
    readings: Sequence[Said],
    *,
    done: frozenset[str],
    listed: frozenset[str],
    signed: frozenset[str],
) -> Stand:
    """Return where a build of `plan` stands; `readings` oldest first, as a tuple.

    `done` are keys of steps; `listed` the kinds of machine the shop has, `signed` those
    that the student is signed off on.
    """
    course = progress.course(plan)
    rows = [Reading(**said._asdict()) for said in readings]
    try:
        solution = solve(plan, adapters.readings_of(plan, rows))
    except EngineError:
        # the build's own page tells what is wrong
        return Stand(plan=plan, is_broken=True, steps=len(course.steps))
    places = [
        Place(number=number, standing=standing)
        for number, standing in enumerate(
            step_standings(solution, course, done=done, listed=listed, signed=signed),
            start=1,
        )
    ]
    left = [place for place in places if not place.standing.is_done]
    chosen = in_hand(place.standing for place in left)
    return Stand(
        plan=plan,
        in_hand=next((place for place in left if place.standing is chosen), None),
        first=left[0] if left else None,
        done=len(places) - len(left),
        steps=len(places),
        doubts=sum(not doubt.agrees for doubt in solution.in_doubt),
    )
