"""A rabbet: a step along the host's edge that the guest sits in."""

from projects.engine.joints.base import JointKind, plain_slot

KIND = JointKind(
    key="rabbet",
    title="Rabbet",
    slot="Rabbet",
    depth="needed",
    cuts=plain_slot,
    cautions=("slot_at_saw", "slot_with_router"),
)
