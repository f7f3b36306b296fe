"""How sure each fit and each distance is, given what it was measured with."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.fit.solve import Solution
from projects.engine.fit.system import Form
from projects.engine.fit.uncertainty import Share, Uncertainty, uncertainty
from projects.engine.plan.readings import CALIPER_IN, Instrument
from projects.engine.plan.records import Distance, Joint
from projects.engine.units import mm_per

CALIPER_SPAN_IN = 6
"""Up to which length a usual shop caliper opens [in].

Source: common practice, no source.
"""


@dataclass(frozen=True, kw_only=True)
class Repeat:
    """Name the reading that is best taken again.

    `by` a caliper, or where none spans the length by the tape with more care, of which
    nothing is gained for sure. `gains_mm` [mm] is by how much the likely spread falls,
    `from_mm` [mm] and `to_mm` [mm] what it was and would be.
    """

    name: str
    by: Instrument
    from_mm: float
    to_mm: float

    @property
    def gains_mm(self) -> float:
        """By how much the likely spread falls [mm]."""
        return self.from_mm - self.to_mm


@dataclass(frozen=True, kw_only=True)
class JointFit:
    """Hold how a guest will sit in the slot that is cut for it.

    `play_mm` [mm] is the room the plan asks for. Where the readings are off as far as
    their instruments can be, between `least_mm` and `most_mm` [mm] of room are left;
    below 0 the guest doesn't go in. `spread_mm` [mm] is the likely error either way.
    `measured` is False where the guest's thickness is still the plan's.
    """

    joint: Joint
    play_mm: Fraction
    least_mm: Fraction
    most_mm: Fraction
    spread_mm: float
    measured: bool
    repeat: Repeat | None

    @property
    def is_certain(self) -> bool:
        """Whether the readings leave no doubt that the guest goes in."""
        return self.measured and self.least_mm >= 0


@dataclass(frozen=True, kw_only=True)
class DistanceFit:
    """Hold how far off a distance can be; `mm` is None where nothing fixes it yet.

    `mark_mm` [mm] is one mark of the plan's tape. `unmeasured` names the parts whose
    thickness it rests on and nobody measured.
    """

    distance: Distance
    mm: Fraction | None
    uncertainty: Uncertainty
    mark_mm: Fraction
    repeat: Repeat | None
    unmeasured: tuple[str, ...]

    @property
    def is_certain(self) -> bool:
        """Whether it is certain to one mark of the tape, at worst."""
        if self.mm is None or self.unmeasured:
            return False
        return self.uncertainty.worst_mm <= self.mark_mm


def joint_fits(solution: Solution) -> tuple[JointFit, ...]:
    """Return the fit of each joint whose slot is cut for its guest's thickness.

    The slot is as wide as the guest's thickest point and the clearance, so the room
    beside it is the clearance there and more where the guest is thinner. How exactly
    the slot itself is cut is the machine's matter and not counted.
    """
    return tuple(
        _joint_fit(solution, joint)
        for joint in solution.plan.joints
        if _holds_the_thickness(solution, joint)
    )


def distance_fits(solution: Solution) -> tuple[DistanceFit, ...]:
    """Return how sure each of the plan's distances is."""
    mark_mm = mm_per("in") / solution.plan.tape
    found = []
    for distance in solution.plan.distances:
        form = solution.system.distances[distance.key]
        if form is None:
            unsure = Uncertainty(worst_mm=Fraction(0), spread_mm=0.0, shares=())
        else:
            unsure = uncertainty(solution, form)
        found.append(
            DistanceFit(
                distance=distance,
                mm=solution.distances[distance.key],
                uncertainty=unsure,
                mark_mm=mark_mm,
                repeat=best_repeat(unsure.shares),
                unmeasured=_unmeasured(solution, form) if form else (),
            )
        )
    return tuple(found)


def _unmeasured(solution: Solution, form: Form) -> tuple[str, ...]:
    plan, readings = solution.plan, solution.readings
    return tuple(
        plan.part_by_key[item.key].name
        for _, item in form.terms
        if item.kind == "thickness" and not readings.of_part(plan, item.key)
    )


def best_repeat(shares: tuple[Share, ...]) -> Repeat | None:
    """Return the reading to take again that adds most; None if a caliper took all.

    What it gains is in the root of the sum of squares; see `uncertainty`. Nothing but
    care makes a long reading better, so no gain is told of one.
    """
    fine_mm = CALIPER_IN * mm_per("in")
    coarse = [share for share in shares if share.half_width_mm > fine_mm]
    if not coarse:
        return None
    spread_mm = math.hypot(*(float(share.worst_mm) for share in shares))
    most = max(coarse, key=lambda share: share.worst_mm)
    if most.length_mm > CALIPER_SPAN_IN * mm_per("in"):
        return Repeat(name=most.name, by="tape", from_mm=spread_mm, to_mm=spread_mm)
    again = float(abs(most.sensitivity) * fine_mm)
    rest = (float(share.worst_mm) for share in shares if share is not most)
    to_mm = math.hypot(again, *rest)
    return Repeat(name=most.name, by="caliper", from_mm=spread_mm, to_mm=to_mm)


def _holds_the_thickness(solution: Solution, joint: Joint) -> bool:
    """Tell whether a joint's slot is as wide as its guest and the clearance."""
    width_mm = solution.cuts[joint.key].width_mm
    return width_mm is not None and width_mm == (
        _thickest_mm(solution, joint) + _play_mm(joint)
    )


def _thickest_mm(solution: Solution, joint: Joint) -> Fraction:
    points = solution.readings.of_part(solution.plan, joint.guest.part)
    nominal_mm = solution.sizes[joint.guest.part, "thickness"]
    return max((point.length.mm for point in points), default=nominal_mm)


def _play_mm(joint: Joint) -> Fraction:
    return joint.clearance.mm if joint.clearance else Fraction(0)


def _joint_fit(solution: Solution, joint: Joint) -> JointFit:
    plan = solution.plan
    points = solution.readings.of_part(plan, joint.guest.part)
    play_mm = _play_mm(joint)
    halves = [point.half_width_mm(tape=plan.tape) for point in points]
    # the guest may really be this much thicker than it was read anywhere
    thickest_mm = _thickest_mm(solution, joint)
    over_mm = max(
        (p.length.mm + h for p, h in zip(points, halves, strict=True)),
        default=thickest_mm,
    )
    under_mm = min(
        (p.length.mm - h for p, h in zip(points, halves, strict=True)),
        default=thickest_mm,
    )
    at_thickest = max(
        (h for p, h in zip(points, halves, strict=True) if p.length.mm == thickest_mm),
        default=Fraction(0),
    )
    name = plan.part_by_key[joint.guest.part].name
    share = Share(
        name=name,
        length_mm=thickest_mm,
        sensitivity=Fraction(-1),
        half_width_mm=at_thickest,
    )
    return JointFit(
        joint=joint,
        play_mm=play_mm,
        least_mm=thickest_mm + play_mm - over_mm,
        most_mm=thickest_mm + play_mm - under_mm,
        spread_mm=float(at_thickest),
        measured=bool(points),
        repeat=best_repeat((share,)) if points else None,
    )
