"""A groove: a slot along the grain of the host that the guest's edge sits in."""

from projects.engine.joints.base import JointKind, plain_slot

KIND = JointKind(
    key="groove",
    title="Groove",
    slot="Groove",
    depth="needed",
    cuts=plain_slot,
    cautions=("slot_at_saw", "slot_with_router"),
)
