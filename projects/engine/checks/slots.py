"""Where the slots and mortises of a piece lie on their hosts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.fit.solve import Solution
from projects.engine.joints.dado import stops_of
from projects.engine.plan.records import AXES, FACES, Axis, Joint, Part

SLOTS = ("dado", "groove", "rabbet")
SLOTTED = (*SLOTS, "tenon")


@dataclass(frozen=True, kw_only=True)
class Span:
    """Hold from where to where something lies [mm], from its host's low face."""

    low_mm: Fraction
    high_mm: Fraction

    def meets(self, other: Span) -> bool:
        """Say whether the two share more than an end."""
        return self.low_mm < other.high_mm and other.low_mm < self.high_mm


@dataclass(frozen=True, kw_only=True)
class Slot:
    """Hold one slot or mortise in a host.

    `deep_mm` [mm] is how deep it is cut, `across` the axis its width lies on and
    `lies` its place on the two axes of the host's face; None where nothing fixes it.
    """

    joint: Joint
    host: Part
    deep_mm: Fraction
    across: Axis
    lies: Mapping[Axis, Span | None]


def slot_of(solution: Solution, joint: Joint) -> Slot | None:
    """Return the slot a joint needs; None for a kind of joint that cuts none."""
    plan, cuts = solution.plan, solution.cuts[joint.key]
    guest, host = (plan.part_by_key[f.part] for f in (joint.guest, joint.host))
    across = guest.axes["thickness"]
    if joint.kind not in SLOTTED or cuts.depth_mm is None or cuts.width_mm is None:
        return None
    if across == joint.host.axis:  # laid in flat: a recess, no slot
        return None
    along = next(axis for axis in AXES if axis not in (across, joint.host.axis))
    shoulder_mm = {inset.of: inset.mm for inset in cuts.insets}
    low_mm = _start_mm(solution, guest, host, across)
    width = None
    if low_mm is not None:
        low_mm += shoulder_mm.get("thickness", Fraction(0))
        width = Span(low_mm=low_mm, high_mm=low_mm + cuts.width_mm)
    deep_mm = cuts.depth_mm
    if joint.kind == "tenon":
        length = _mortise(solution, guest, host, along, shoulder_mm["across"])
        deep_mm = next(m.mm for m in cuts.on_host if m.name == "mortise depth")
    else:
        length = _run(solution, joint, host, along)
    return Slot(
        joint=joint,
        host=host,
        deep_mm=deep_mm,
        across=across,
        lies={across: width, along: length},
    )


def _start_mm(
    solution: Solution, guest: Part, host: Part, axis: Axis
) -> Fraction | None:
    form = solution.system.between(host.faces_on(axis)[0], guest.faces_on(axis)[0])
    return None if form is None else form.value(solution.values)


def _mortise(
    solution: Solution, guest: Part, host: Part, axis: Axis, shoulder_mm: Fraction
) -> Span | None:
    start_mm = _start_mm(solution, guest, host, axis)
    if start_mm is None:
        return None
    long_mm = solution.sizes[guest.key, guest.dimension_on(axis)]
    return Span(low_mm=start_mm + shoulder_mm, high_mm=start_mm + long_mm - shoulder_mm)


def _run(solution: Solution, joint: Joint, host: Part, axis: Axis) -> Span:
    """Return how far a slot runs: right across its host, but for its stops."""
    low_mm, high_mm = Fraction(0), solution.sizes[host.key, host.dimension_on(axis)]
    if joint.kind == "dado":
        for stop in stops_of(joint):
            if FACES[stop.at][1]:
                high_mm -= stop.by.mm
            else:
                low_mm += stop.by.mm
    return Span(low_mm=low_mm, high_mm=high_mm)
