"""Look a solved plan over for what would go wrong in the shop.

- ``records``  what a finding and a check are
- ``limits``   what a shop takes and allows, each limit with its source
- ``look``     the solved piece as checks look at it; ``slots``, ``moving`` and
  ``shelves`` hold what several of them share
- the rest     one file a check

To add a check: write a file with a `CHECK = Check(...)` (see `records`) whose `find`
takes a `Look` and yields a `Finding` for each place, name the file in `CHECKS` below,
put any limit it needs into `limits` with its source, and give it a worked example by
hand in `tests/engine/checks/`, with a case just inside and one just outside the limit.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from projects.engine.checks import (
    across_grain,
    back_to_back,
    bearing_flat,
    machine_size,
    one_place,
    panel_room,
    planned_thickness,
    shelf_sag,
    slot_depth,
    thin_lip,
)
from projects.engine.checks.limits import Limit, Machine, ShopError, ShopLimits
from projects.engine.checks.look import Look
from projects.engine.checks.records import Amount, Check, Finding, Where, Words
from projects.engine.fit.solve import Solution

CHECKS: dict[str, Check] = {
    module.CHECK.key: module.CHECK
    for module in (
        planned_thickness,
        one_place,
        slot_depth,
        back_to_back,
        thin_lip,
        machine_size,
        across_grain,
        panel_room,
        shelf_sag,
        bearing_flat,
    )
}

__all__ = [
    "CHECKS",
    "Amount",
    "Check",
    "Finding",
    "Limit",
    "Machine",
    "ShopError",
    "ShopLimits",
    "Where",
    "Words",
    "check",
]


def check(
    solution: Solution,
    shop: ShopLimits | None = None,
    *,
    accepted: Collection[str] = (),
) -> tuple[Finding, ...]:
    """Return what the checks find in a solved plan, in the order of `CHECKS`.

    `shop` holds the limits, the usual ones unless given. Findings whose key is in
    `accepted` come too, marked so. The order and the keys are the same for the same
    plan; no two findings have one key.
    """
    look = Look(solution=solution, shop=shop or ShopLimits())
    found: dict[str, Finding] = {}
    for one in CHECKS.values():
        for finding in one.find(look):
            found.setdefault(finding.key, finding)
    return tuple(
        replace(finding, accepted=finding.key in accepted) for finding in found.values()
    )
