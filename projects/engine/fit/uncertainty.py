"""How far off a size can be, from the instruments its readings were taken with."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.fit.solve import Solution, fact_input
from projects.engine.fit.system import Form
from projects.engine.plan.readings import Reading


@dataclass(frozen=True, kw_only=True)
class Share:
    """Hold what one reading adds: `sensitivity` [-] and its `half_width_mm` [mm].

    `length_mm` [mm] is what was read.
    """

    name: str
    length_mm: Fraction
    sensitivity: Fraction
    half_width_mm: Fraction

    @property
    def worst_mm(self) -> Fraction:
        """The most this reading can move the size, either way [mm]."""
        return abs(self.sensitivity) * self.half_width_mm


@dataclass(frozen=True, kw_only=True)
class Uncertainty:
    """Hold how far a size can be off, either way, and which readings make it so.

    `worst_mm` [mm] is exact: every reading off as far as it can be, all one way.
    `spread_mm` [mm] is the root of the sum of squares, what is likely where the
    readings err independently of each other.

    Source: JCGM 100:2008 (GUM), 5.1.2, equation 10, for independent inputs; held
    against the `uncertainties` package in `tests/published/`.
    """

    worst_mm: Fraction
    spread_mm: float
    shares: tuple[Share, ...]


def uncertainty(solution: Solution, form: Form) -> Uncertainty:
    """Return how far off the size that `form` states can be.

    Parts of one stock share its readings, so their coefficients are added before
    they are squared. Inputs nobody measured add nothing.
    """
    shares = tuple(
        Share(
            name=name,
            length_mm=point.length.mm,
            sensitivity=total / len(points),
            half_width_mm=point.half_width_mm(tape=solution.plan.tape),
        )
        for name, total, points in _sources(solution, form)
        for point in points
        if total
    )
    return Uncertainty(
        worst_mm=sum((share.worst_mm for share in shares), Fraction(0)),
        spread_mm=math.hypot(*(float(share.worst_mm) for share in shares)),
        shares=shares,
    )


def _sources(
    solution: Solution, form: Form
) -> list[tuple[str, Fraction, tuple[Reading, ...]]]:
    """Return the readings behind a form: name, sum of coefficients, points."""
    plan, readings = solution.plan, solution.readings
    facts = {fact_input(fact): reading for fact, reading in readings.facts.items()}
    sources: dict[object, tuple[str, Fraction, tuple[Reading, ...]]] = {}
    for term in solution.terms(form):
        item = term.item
        source: tuple[object, str, tuple[Reading, ...]] = (item, term.name, ())
        if item in facts:
            source = (item, term.name, (facts[item],))
        elif item.kind == "thickness" and readings.parts.get(item.key):
            source = (item, term.name, readings.parts[item.key])
        elif item.kind == "thickness":
            stock = plan.stock_by_key[plan.part_by_key[item.key].stock]
            points = readings.stock.get(stock.key, ())
            source = (stock.key, f"{stock.name} thickness", points)
        key, name, points = source
        if points:
            _, before, _ = sources.get(key, ("", Fraction(0), ()))
            sources[key] = (name, before + term.coefficient, points)
    return list(sources.values())
