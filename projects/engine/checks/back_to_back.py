"""Two slots on opposite faces of one host, over each other, leave a thin web."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    Words,
    at_joint,
    at_part,
    finding_key,
    words,
)
from projects.engine.checks.slots import Slot

KEY = "back_to_back"


def _over_each_other(one: Slot, other: Slot) -> bool:
    """Say whether two slots lie opposite and share an area; unknown says no."""
    faces = one.joint.host, other.joint.host
    if faces[0].part != faces[1].part or faces[0].name != faces[1].opposite:
        return False
    for axis, span in one.lies.items():
        facing = other.lies[axis]
        if span is None or facing is None or not span.meets(facing):
            return False
    return True


def _left(look: Look, left_mm: Fraction, values: dict[str, str]) -> Words:
    if left_mm > 0:
        return words(
            "{one} and {other} lie back to back: {left} of {host} stays between them",
            left=look.said(left_mm),
            **values,
        )
    return words("{one} and {other} lie back to back and meet inside {host}", **values)


def _find(look: Look) -> Iterator[Finding]:
    shop = look.shop
    for one, other in combinations(look.slots, 2):
        if not _over_each_other(one, other):
            continue
        host, axis = one.host, one.joint.host.axis
        extent_mm = look.extent_mm(host, axis)
        left_mm = extent_mm - one.deep_mm - other.deep_mm
        least_mm = max(shop.web_mm.value, shop.web_share.value * extent_mm)
        if left_mm >= least_mm:
            continue
        here = [at_joint(look.plan, slot.joint) for slot in (one, other)]
        names = {"one": here[0].name, "other": here[1].name, "host": host.name}
        yield Finding(
            check=KEY,
            key=finding_key(KEY, here),
            level="warning",
            what=_left(look, left_mm, names),
            why=words(
                "At least {least} should stay, or the host breaks along the slots. "
                "Make them shallower, or move one of them.",
                least=look.said(least_mm),
            ),
            source=shop.web_mm.source,
            where=(*here, at_part(host)),
            amounts=(
                Amount(name="left between", value=left_mm),
                Amount(name="at least", value=least_mm),
            ),
        )


CHECK = Check(key=KEY, title="Slots back to back", find=_find)
