"""Which cuts of a plan's joints are made together, in one step."""

from __future__ import annotations

from dataclasses import dataclass, field

from projects.engine.plan.records import Joint, Plan
from projects.engine.steps.cutting import (
    CUTTINGS,
    DOWELS,
    HALF_LAP,
    IN_ORDER,
    SIDES,
    Cutting,
)
from projects.engine.steps.rounds import Rounds


@dataclass(kw_only=True)
class Group:
    """Gather the cuts that one step makes in one round.

    `parts` are those cut, `others` what meets them there.
    """

    cutting: Cutting
    round: int
    joints: dict[str, Joint] = field(default_factory=dict)
    parts: dict[str, None] = field(default_factory=dict)
    others: set[str] = field(default_factory=set)

    def takes(self, part: str, other: str) -> bool:
        """Return whether it stays clear which part of each joint is cut here."""
        cuts_both = self.cutting in (HALF_LAP, DOWELS)
        return cuts_both or (part not in self.others and other not in self.parts)


def groups_of(plan: Plan, rounds: Rounds, *, fine: bool) -> list[Group]:
    """Return the cuts of all joints in their order, those of one setting together.

    Without `fine` all cuts of one kind go together, whatever their setting.
    """
    made: dict[object, list[Group]] = {}
    for joint in plan.joints:
        ends = {"host": joint.host.part, "guest": joint.guest.part}
        for side in SIDES:
            cutting = CUTTINGS[joint.kind](joint, side)
            if cutting is None:
                continue
            part = ends[side]
            other = joint.guest.part if side == "host" else joint.host.part
            setting = _setting(plan, joint, cutting) if fine else None
            at = rounds.part[part]
            alike = made.setdefault((cutting.one, at, setting), [])
            group = next((g for g in alike if not fine or g.takes(part, other)), None)
            if group is None:
                group = Group(cutting=cutting, round=at)
                alike.append(group)
            group.joints[joint.key] = joint
            group.parts[part] = None
            group.others.add(other)
    every = [group for alike in made.values() for group in alike]
    return sorted(every, key=lambda group: IN_ORDER.index(group.cutting))


def _setting(plan: Plan, joint: Joint, cutting: Cutting) -> object:
    """Return what is the same for cuts that go together."""
    guest = plan.part_by_key[joint.guest.part]
    if not cutting.by_setting:
        return guest.key
    clearance_mm = joint.clearance.mm if joint.clearance else 0
    depth_mm = joint.depth.length.mm if joint.depth.length else None
    return guest.stock, depth_mm, joint.depth.share, clearance_mm, joint.details
