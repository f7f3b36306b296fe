"""All parts of a build as they are drawn: each once, pairs together."""

from __future__ import annotations

from projects.engine.drawing.worked import PartSheet
from projects.engine.fit.solve import Solution
from projects.engine.partwork.faces import part_work
from projects.engine.partwork.pairs import mirrored


def part_sheets(solution: Solution) -> tuple[PartSheet, ...]:
    """Return what to draw of a build, in the plan's order.

    The two parts of a pair come together where they mirror each other; a pair that
    doesn't, as solved, is drawn as two single parts.
    """
    works = {part.key: part_work(solution, part) for part in solution.plan.parts}
    sheets = []
    drawn: set[str] = set()
    for part in solution.plan.parts:
        if part.key in drawn:
            continue
        together = [works[part.key]]
        if part.pair and part.pair not in drawn:
            image = mirrored(works[part.key], works[part.pair])
            together += [image] if image else []
        drawn.update(work.key for work in together)
        sheets.append(PartSheet(parts=tuple(together)))
    return tuple(sheets)
