"""The table of a build's sizes: a part a row, its three sizes in it."""

from __future__ import annotations

from dataclasses import dataclass

from projects.engine.fit.advice import hangs_on, missing_end
from projects.engine.fit.solve import Solution
from projects.engine.fit.system import SizeKey
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import DIMENSIONS, Dimension, Part
from projects.engine.units import Shown
from projects.present.sums import Sum, size_sum
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class SizeCell:
    """One size of a part; `is_open` where its sum is shown below."""

    dimension: Dimension
    shown: Shown
    is_open: bool


@dataclass(frozen=True, kw_only=True)
class PartRow:
    """One part; `state` is waits, doubt, cut, planned or "" (see the template).

    `other_end` where it waits for the second end of a dry fit alone; `hangs_on` names
    stock of other parts that its sizes hang on and that wasn't measured yet.
    """

    key: str
    name: str
    count: int
    pair: str
    state: str
    cells: tuple[SizeCell, ...]
    opened: Sum | None
    other_end: bool
    hangs_on: tuple[str, ...]


def size_table(
    solution: Solution, showing: Showing, *, opened: SizeKey | None = None
) -> tuple[PartRow, ...]:
    """Return a row for each part, with the sum of the size that is open."""
    return tuple(
        part_row(solution, showing, part, opened=opened) for part in solution.plan.parts
    )


def part_row(
    solution: Solution, showing: Showing, part: Part, *, opened: SizeKey | None = None
) -> PartRow:
    """Return the row of one part."""
    is_here = opened is not None and opened[0] == part.key
    pair = solution.plan.part_by_key[part.pair].name if part.pair else ""
    return PartRow(
        key=part.key,
        name=part.name,
        count=part.count,
        pair=pair,
        state=_state(solution, part),
        cells=tuple(
            SizeCell(
                dimension=dimension,
                shown=showing.of(solution.sizes[part.key, dimension]),
                is_open=opened == (part.key, dimension),
            )
            for dimension in DIMENSIONS
        ),
        opened=size_sum(solution, opened, showing) if opened and is_here else None,
        other_end=_is_half_measured(solution, part),
        hangs_on=_hangs_on(solution, part),
    )


def _is_half_measured(solution: Solution, part: Part) -> bool:
    """Tell whether all that a part waits for was read at one end."""
    waits = solution.system.waiting
    keys = {key for d in DIMENSIONS for key in waits.get((part.key, d), ())}
    return bool(keys) and all(missing_end(key, solution.readings) for key in keys)


def _hangs_on(solution: Solution, part: Part) -> tuple[str, ...]:
    forms = [solution.form((part.key, dimension)) for dimension in DIMENSIONS]
    names = (stock.name for form in forms for stock in hangs_on(solution, form))
    return tuple(dict.fromkeys(names))


def _state(solution: Solution, part: Part) -> str:
    cuts = {
        Fact(kind="cut", key=part.key, dimension=dimension)
        for dimension in ("length", "width")
    }
    if any(d.fact in cuts and not d.agrees for d in solution.in_doubt):
        return "doubt"
    if any(
        (part.key, dimension) in solution.system.waiting for dimension in DIMENSIONS
    ):
        return "waits"
    if cuts & set(solution.readings.facts):
        return "cut"
    return "" if solution.readings.of_part(solution.plan, part.key) else "planned"
