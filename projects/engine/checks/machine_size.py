"""A part smaller than a machine of this shop takes has to be made another way."""

from __future__ import annotations

from collections.abc import Iterator

from projects.engine.checks.limits import Limit, Machine
from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    at_part,
    finding_key,
    words,
)
from projects.engine.plan.records import DIMENSIONS, Dimension, Part

KEY = "machine_size"

SAID: dict[Dimension, tuple[str, str]] = {
    "length": (
        "{parts}: {size} long, less than the {machines} of this shop should take",
        "A short part tips into a cutter or is thrown. Do this work on a longer "
        "board that several are cut from, and cut them to length last.",
    ),
    "width": (
        "{parts}: {size} wide, less than the {machines} of this shop should take",
        "A narrow part leaves no room for the hand. Do this work on a wider board, "
        "and rip it to width last.",
    ),
    "thickness": (
        "{parts}: {size} thick, less than the {machines} of this shop should take",
        "A thin part breaks up under a cutter. Buy it this thin, or fix it to a "
        "carrier board.",
    ),
}


def _limit(machine: Machine, dimension: Dimension) -> Limit | None:
    return {
        "length": machine.shortest_mm,
        "width": machine.narrowest_mm,
        "thickness": machine.thinnest_mm,
    }[dimension]


def _alike(look: Look, part: Part, dimension: Dimension) -> tuple[Part, ...]:
    """Return a part, with its left or right pair where that is the same size."""
    pair = look.plan.part_by_key.get(part.pair or "")
    sizes = look.solution.sizes
    if pair and sizes[part.key, dimension] == sizes[pair.key, dimension]:
        return (part, pair)
    return (part,)


def _find(look: Look) -> Iterator[Finding]:
    for dimension in DIMENSIONS:
        told: set[str] = set()
        for part in look.plan.parts:
            if part.key in told:
                continue
            alike = _alike(look, part, dimension)
            told |= {one.key for one in alike}
            # sheets come flat and smooth: they are sawn, not planed or jointed
            machines = [
                (machine, limit)
                for machine in look.shop.machines
                if look.is_solid(part) or machine is look.shop.table_saw
                if (limit := _limit(machine, dimension)) is not None
                if look.solution.sizes[part.key, dimension] < limit.value
            ]
            if machines:
                yield _finding(look, alike, dimension, machines)


def _finding(
    look: Look,
    alike: tuple[Part, ...],
    dimension: Dimension,
    machines: list[tuple[Machine, Limit]],
) -> Finding:
    where = tuple(map(at_part, alike))
    mm = look.solution.sizes[alike[0].key, dimension]
    what, why = SAID[dimension]
    return Finding(
        check=KEY,
        key=finding_key(KEY, where, tag=dimension),
        level="advice",
        what=words(
            what,
            parts=", ".join(part.name for part in alike),
            size=look.said(mm),
            machines=", ".join(
                f"{machine.name} ({look.said(limit.value)})"
                for machine, limit in machines
            ),
        ),
        why=words(why),
        source="; ".join(
            f"{machine.name}: {limit.source}" for machine, limit in machines
        ),
        where=where,
        amounts=(
            Amount(name=dimension, value=mm),
            *(Amount(name=m.name, value=limit.value) for m, limit in machines),
        ),
    )


CHECK = Check(key=KEY, title="Parts too small for a machine", find=_find)
