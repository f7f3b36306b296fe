"""Round-overs on both faces leave a flat for the bit's guide bearing, or too little."""

from __future__ import annotations

from collections.abc import Iterator

from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    at_part,
    finding_key,
    words,
)

KEY = "bearing_flat"


def _find(look: Look) -> Iterator[Finding]:
    limit = look.shop.bearing_mm
    for part in look.plan.parts:
        if part.round_over is None:
            continue
        thickness_mm = look.extent_mm(part, part.axes["thickness"])
        flat_mm = thickness_mm - 2 * part.round_over.mm
        if flat_mm >= limit.value:
            continue
        here = at_part(part)
        yield Finding(
            check=KEY,
            key=finding_key(KEY, [here]),
            level="warning",
            what=words(
                "{part}: rounded over by {radius} on both faces, its edge keeps "
                "{flat} of flat, and the bearing wants {wanted}",
                part=part.name,
                radius=look.said(part.round_over.mm),
                flat=look.said(flat_mm) if flat_mm > 0 else "nothing",
                wanted=look.said(limit.value),
            ),
            why=words(
                "On the second pass the guide bearing finds no flat to run on, dips "
                "into the first round-over and spoils the edge. Take a smaller bit, "
                "or run the second pass against a fence."
            ),
            source=limit.source,
            where=(here,),
            amounts=(
                Amount(name="flat left", value=flat_mm),
                Amount(name="thickness", value=thickness_mm),
            ),
        )


CHECK = Check(key=KEY, title="No flat for the bearing", find=_find)
