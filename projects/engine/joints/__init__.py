"""The kinds of joint, one file each.

To add one: write a file with a `KIND = JointKind(...)` (see `base`), name it in
`KINDS` below, give it a worked example by hand in `tests/engine/joints/`, and
describe its fields in DEVELOPERS.md. Nothing else needs to know of it.
"""

from projects.engine.joints import (
    butt,
    dado,
    dowel,
    groove,
    half_lap,
    rabbet,
    tenon,
)
from projects.engine.joints.base import Cuts, Inset, JointKind, Measure, Seat

KINDS: dict[str, JointKind] = {
    module.KIND.key: module.KIND
    for module in (dado, rabbet, groove, butt, tenon, half_lap, dowel)
}

__all__ = ["KINDS", "Cuts", "Inset", "JointKind", "Measure", "Seat"]
