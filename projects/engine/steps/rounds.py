"""Which parts are cut before the dry fit, and which after what it measures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from projects.engine.errors import EngineError
from projects.engine.fit.system import compile_system
from projects.engine.plan.records import Plan

MOST_ROUNDS = 6
"""How many dry fits may follow from each other before parts wait no longer.

Source: common practice, no source (one or two are usual).
"""


@dataclass(frozen=True, kw_only=True)
class Rounds:
    """Say in which round each part is cut and each dry-fit distance is measured.

    Round 0 comes before the first dry fit. What is measured in a round is measured
    after its parts are cut. `waits` names the distances a part is not cut before.
    """

    part: Mapping[str, int]
    distance: Mapping[str, int]
    waits: Mapping[str, tuple[str, ...]]

    @property
    def last(self) -> int:
        """The last round in which anything is cut."""
        return max(self.part.values(), default=0)


def rounds_of(plan: Plan) -> Rounds:
    """Return the rounds in which the parts of `plan` are cut.

    Where parts can't be measured at because they wait for each other, they wait for
    nothing that isn't measured by then.
    """
    waits = _wanted_waits(plan)
    ends = {d.key: {d.start.part, d.end.part} for d in plan.distances if d.dry_fit}
    part: dict[str, int] = {}
    distance: dict[str, int] = {}
    now = 0
    while len(part) < len(waits) or len(distance) < len(ends):
        ready = [k for k in waits if k not in part and waits[k] <= distance.keys()]
        part |= dict.fromkeys(ready, now)
        open_ends = [k for k in ends if k not in distance]
        seen = [key for key in open_ends if ends[key] <= part.keys()]
        if now >= MOST_ROUNDS or not (ready or seen):
            stuck = {end for key in open_ends for end in ends[key]} - part.keys()
            part |= dict.fromkeys(stuck, now)
            seen = open_ends
        distance |= dict.fromkeys(seen, now)
        now += 1
    kept = {
        key: tuple(d for d in ends if d in waits[key] and distance[d] < part[key])
        for key in waits
    }
    return Rounds(part=part, distance=distance, waits=kept)


def _wanted_waits(plan: Plan) -> dict[str, set[str]]:
    """Return the dry-fit distances that each part should wait for."""
    waits: dict[str, set[str]] = {part.key: set() for part in plan.parts}
    for distance in plan.distances:
        for key in distance.fits:
            waits[key].add(distance.key)
    try:
        waiting = compile_system(plan).waiting
    except EngineError:
        # a draft that leaves a size open: what its distances name is all that's known
        return waits
    for (key, _dimension), distances in waiting.items():
        waits[key].update(distances)
    return waits
