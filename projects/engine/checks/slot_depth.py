"""A slot deeper than a share of its host leaves the host weak."""

from __future__ import annotations

from collections.abc import Iterator

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
from projects.engine.checks.slots import SLOTS
from projects.engine.units import exact_number

KEY = "slot_depth"


def _find(look: Look) -> Iterator[Finding]:
    limit = look.shop.slot_share
    for joint in look.plan.joints:
        if joint.kind not in SLOTS:
            continue
        host = look.part(joint.host)
        deep_mm, extent_mm = look.depth_mm(joint), look.extent_mm(host, joint.host.axis)
        if deep_mm <= limit.value * extent_mm:
            continue
        here = at_joint(look.plan, joint)
        yield Finding(
            check=KEY,
            key=finding_key(KEY, [here]),
            level="warning",
            what=words(
                "{joint}: the slot is {deep} deep, more than {share} of {host} "
                "({extent})",
                joint=here.name,
                deep=look.said(deep_mm),
                share=exact_number(limit.value),
                host=host.name,
                extent=look.said(extent_mm),
            ),
            why=words(
                "What is left carries the load of the host, and it breaks there first."
            ),
            source=limit.source,
            where=(here, at_part(host)),
            amounts=(
                Amount(name="slot depth", value=deep_mm),
                Amount(name="host", value=extent_mm),
                Amount(name="share", value=deep_mm / extent_mm, unit="-"),
            ),
        )


CHECK = Check(key=KEY, title="Slots too deep", find=_find)
