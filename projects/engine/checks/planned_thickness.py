"""A loop of joints and flush faces that closes at the planned thickness alone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction

from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    Check,
    Finding,
    at_part,
    finding_key,
    words,
)
from projects.engine.fit.system import Dependent
from projects.engine.plan.records import Part

KEY = "planned_thickness"


def _parts(look: Look, loop: Dependent) -> list[Part]:
    """Return the parts whose stock a loop hangs on; none where all cancels out.

    Parts of one stock are as thick as each other, so it is the stock's share that
    counts.
    """
    by_stock: dict[str, Fraction] = defaultdict(Fraction)
    parts = []
    stated = loop.equation.input
    for factor, item in (*loop.form.terms, (Fraction(-1), stated)):
        if item is not None and item.kind == "thickness":
            part = look.plan.part_by_key[item.key]
            by_stock[part.stock] += factor
            parts.append(part)
    return [part for part in parts if by_stock[part.stock]]


def _find(look: Look) -> Iterator[Finding]:
    for loop in look.solution.system.loops:
        parts = _parts(look, loop)
        if not parts:
            continue
        here = tuple(map(at_part, parts))
        yield Finding(
            check=KEY,
            key=finding_key(KEY, here),
            level="warning",
            what=words(
                "{parts}: this goes together at just the planned thickness alone",
                parts=", ".join(part.name for part in parts),
            ),
            why=words(
                "Stock never comes out just so, and then these can't all hold: {loop}. "
                "Leave one of them out.",
                loop=", ".join((*loop.names, loop.equation.name)),
            ),
            source="follows from the plan",
            where=here,
        )


CHECK = Check(key=KEY, title="Thickness that can't differ", find=_find)
