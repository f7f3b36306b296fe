"""What is cut for each joint, from the solved sizes of its two parts."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from projects.engine.errors import PlanError
from projects.engine.fit.equations import Input
from projects.engine.fit.system import SizeKey, System
from projects.engine.joints import KINDS, Cuts, Seat
from projects.engine.plan.readings import Readings
from projects.engine.plan.records import Face, FaceName, Joint
from projects.engine.units import exact_text


def joint_cuts(
    system: System,
    readings: Readings,
    joint: Joint,
    sizes: Mapping[SizeKey, Fraction],
    values: Mapping[Input, Fraction],
) -> Cuts:
    """Return what is cut for a joint, from its parts' sizes [mm].

    Raises `PlanError` for a joint deeper than its host, or whatever its kind refuses.
    """
    plan = system.plan
    guest, host = (plan.part_by_key[f.part] for f in (joint.guest, joint.host))
    host_extent_mm = sizes[host.key, host.dimension_on(joint.host.axis)]
    depth_mm = Fraction(0)
    if joint.depth.length is not None:
        depth_mm = joint.depth.length.mm
    elif joint.depth.share is not None:
        depth_mm = joint.depth.share * host_extent_mm
    if depth_mm > host_extent_mm:
        raise PlanError(
            "joint {key}: it is {depth} deep, but its host {host} is only {extent} "
            "on {axis}",
            key=joint.key,
            depth=exact_text(depth_mm, unit=plan.units),
            host=host.key,
            extent=exact_text(host_extent_mm, unit=plan.units),
            axis=joint.host.axis,
        )
    thickness_mm = sizes[guest.key, "thickness"]
    points = readings.of_part(plan, guest.key)
    seat = Seat(
        depth_mm=depth_mm,
        clearance_mm=joint.clearance.mm if joint.clearance else Fraction(0),
        host_extent_mm=host_extent_mm,
        host_thickness_mm=sizes[host.key, "thickness"],
        guest_thickness_mm=thickness_mm,
        guest_thickest_mm=max((p.length.mm for p in points), default=thickness_mm),
        guest_across_mm=sizes[guest.key, guest.across(joint.guest.axis)],
        setbacks_mm=_setbacks(system, joint, values),
    )
    return KINDS[joint.kind].cuts(joint, seat)


def _setbacks(
    system: System, joint: Joint, values: Mapping[Input, Fraction]
) -> dict[FaceName, Fraction]:
    """Return how far inside the host's faces the guest's lie, where it is asked for."""
    found: dict[FaceName, Fraction] = {}
    for name in KINDS[joint.kind].setbacks(joint):
        outer = Face(part=joint.host.part, name=name)
        inner = Face(part=joint.guest.part, name=name)
        ends = (inner, outer) if outer.is_high else (outer, inner)
        form = system.between(*ends)
        if form is not None:
            found[name] = form.value(values)
    return found
