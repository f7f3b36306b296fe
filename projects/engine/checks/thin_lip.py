"""The wood left behind a rabbet, or beside a slot near an edge, may break off."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    at_joint,
    at_part,
    finding_key,
    words,
)
from projects.engine.checks.slots import Slot

KEY = "thin_lip"
BEHIND = "{joint}: the lip behind the rabbet is only {thick} thick"
BESIDE = "{joint}: only {thick} of {host} stays beside it"


def _behind_mm(look: Look, slot: Slot) -> Fraction | None:
    """Return how thick the lip behind a rabbet is [mm]; None for other slots."""
    if slot.joint.kind != "rabbet":
        return None
    return look.extent_mm(slot.host, slot.joint.host.axis) - slot.deep_mm


def _beside_mm(look: Look, slot: Slot) -> Fraction | None:
    """Return the thinner wall beside a slot [mm]; None where it runs out there."""
    span = slot.lies[slot.across]
    if span is None:
        return None
    high_mm = look.extent_mm(slot.host, slot.across) - span.high_mm
    return min((mm for mm in (span.low_mm, high_mm) if mm > 0), default=None)


def _find(look: Look) -> Iterator[Finding]:
    limit = look.shop.lip_mm
    for slot in look.slots:
        here = at_joint(look.plan, slot.joint)
        lips = (
            ("behind", BEHIND, _behind_mm(look, slot)),
            ("beside", BESIDE, _beside_mm(look, slot)),
        )
        for tag, template, thick_mm in lips:
            if thick_mm is None or thick_mm >= limit.value:
                continue
            yield Finding(
                check=KEY,
                key=finding_key(KEY, [here], tag=tag),
                level="warning",
                what=words(
                    template,
                    joint=here.name,
                    thick=look.said(thick_mm),
                    host=slot.host.name,
                ),
                why=words(
                    "Less than {least} breaks off when it is cut, glued or knocked.",
                    least=look.said(limit.value),
                ),
                source=limit.source,
                where=(here, at_part(slot.host)),
                amounts=(
                    Amount(name="lip", value=thick_mm),
                    Amount(name="at least", value=limit.value),
                ),
            )


CHECK = Check(key=KEY, title="Lips too thin", find=_find)
