"""A butt joint: the two faces touch, and nothing is cut."""

from projects.engine.joints.base import Cuts, JointKind, Seat
from projects.engine.plan.records import Joint


def _cuts(_joint: Joint, _seat: Seat) -> Cuts:
    return Cuts(width_mm=None, depth_mm=None)


KIND = JointKind(
    key="butt", title="Butt joint", slot="", depth="none", cuts=_cuts, cautions=()
)
