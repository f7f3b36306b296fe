"""A half lap: each of the two parts is cut away to half its thickness.

The depth is how far the guest lies over the host; unless given, all across it.
The slot in the host is as wide as the guest is across, and the cut on both goes
half through their thickness.
"""

from fractions import Fraction

from projects.engine.joints.base import Cuts, Inset, JointKind, Measure, Seat
from projects.engine.plan.records import Depth, Joint


def _cuts(_joint: Joint, seat: Seat) -> Cuts:
    return Cuts(
        width_mm=seat.guest_across_mm + seat.clearance_mm,
        depth_mm=seat.depth_mm,
        on_host=(Measure(name="cut away", mm=seat.host_thickness_mm / 2),),
        on_guest=(
            Measure(name="lap length", mm=seat.depth_mm),
            Measure(name="cut away", mm=seat.guest_thickness_mm / 2),
        ),
        insets=(Inset(of="across"),),
    )


KIND = JointKind(
    key="half_lap",
    title="Half lap",
    slot="Lap",
    depth="optional",
    default_depth=Depth(share=Fraction(1)),
    cuts=_cuts,
    cautions=("slot_at_saw",),
)
