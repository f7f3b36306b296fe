"""How sure each joint and each distance of a build is, in words."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from django.utils.translation import gettext as _

from projects.engine.fit.advice import Target
from projects.engine.fit.fits import (
    DistanceFit,
    JointFit,
    Repeat,
    distance_fits,
    joint_fits,
)
from projects.engine.fit.solve import Solution
from projects.engine.units import (
    Shown,
    decimal_text,
    mm_per,
    nearest_mark,
    tape_text,
)
from projects.showing import Showing

_FINEST = 64
"""The finest marks of a tape that a difference is said in [-]."""


@dataclass(frozen=True, kw_only=True)
class CertaintyLine:
    """One joint or distance; `state` is doubt, unmeasured, or certain.

    `value` is the room the plan asks for, or what the distance comes out at. `log` is
    what to measure where nothing was, `repeat` which reading to take again and why.
    """

    name: str
    state: str
    value: Shown | None
    said: str
    worst: str
    spread: str
    repeat: str
    log: str = ""


@dataclass(frozen=True, kw_only=True)
class CertaintyPage:
    """All that the page shows; `others` are joints with no slot cut to a thickness."""

    joints: tuple[CertaintyLine, ...]
    distances: tuple[CertaintyLine, ...]
    others: tuple[str, ...]

    @property
    def unsure(self) -> int:
        """How many are not certain."""
        lines = (*self.joints, *self.distances)
        return sum(line.state != "certain" for line in lines)


def certainty_page(solution: Solution, showing: Showing) -> CertaintyPage:
    """Return how sure all of a solved build is, what is not certain first."""
    plan = solution.plan
    fits = joint_fits(solution)
    told = {fit.joint.key for fit in fits}
    joints = [_joint(solution, fit, showing) for fit in fits]
    distances = [_distance(fit, showing) for fit in distance_fits(solution)]
    return CertaintyPage(
        joints=_worst_first(joints),
        distances=_worst_first(distances),
        others=tuple(plan.joint_name(j) for j in plan.joints if j.key not in told),
    )


def _worst_first(lines: list[CertaintyLine]) -> tuple[CertaintyLine, ...]:
    states = ("doubt", "unmeasured", "certain")
    return tuple(sorted(lines, key=lambda line: states.index(line.state)))


def off_text(mm: Fraction | float, showing: Showing) -> str:
    """Return how far off something is [mm], such as `1/32 in` or `0.001 in`.

    It is a fraction where it is one on a tape, and decimals elsewhere.
    """
    exact = Fraction(mm)
    if showing.style == "mm":
        return f"{decimal_text(exact, 2)} mm"
    marks = exact / mm_per("in") * _FINEST
    if showing.style == "tape" and round(marks) and abs(marks - round(marks)) < 1e-6:
        mark = nearest_mark(round(marks) * mm_per("in") / _FINEST, tape=_FINEST)
        return f"{tape_text(mark)} in"
    return f"{decimal_text(exact / mm_per('in'), 3)} in"


def _repeat_words(repeat: Repeat | None, showing: Showing) -> str:
    if repeat is None:
        return ""
    if repeat.by == "tape":
        return _(
            "Longer than a caliper opens. Measure again with the tape, from its 1 in "
            "mark instead of the hook, or with a steel rule: %(name)s."
        ) % {"name": repeat.name}
    return _(
        "Measure again with a caliper: %(name)s. From ±%(before)s to ±%(after)s."
    ) % {
        "name": repeat.name,
        "before": off_text(repeat.from_mm, showing),
        "after": off_text(repeat.to_mm, showing),
    }


def _joint(solution: Solution, fit: JointFit, showing: Showing) -> CertaintyLine:
    plan = solution.plan
    part = plan.part_by_key[fit.joint.guest.part]
    state = "certain" if fit.is_certain else "doubt" if fit.measured else "unmeasured"
    # a part of its own readings is measured again as itself
    own = solution.readings.parts.get(part.key)
    target = Target(kind="part", key=part.key)
    if not own:
        target = Target(kind="stock", key=part.stock)
    return CertaintyLine(
        name=plan.joint_name(fit.joint),
        state=state,
        value=showing.difference(fit.play_mm),
        said=_joint_words(fit, part.name, showing),
        worst=_room(fit, showing) if fit.measured else "",
        spread=off_text(fit.spread_mm, showing) if fit.measured else "",
        repeat="" if fit.is_certain else _repeat_words(fit.repeat, showing),
        log="" if fit.is_certain else str(target),
    )


def _joint_words(fit: JointFit, part: str, showing: Showing) -> str:
    if not fit.measured:
        return _("Not measured: the thickness of %(part)s is still the plan's.") % {
            "part": part
        }
    if fit.is_certain:
        return _("Certain to go in, as far as the readings go.")
    if not fit.play_mm:
        return _("The plan asks for no room, so no reading can guarantee that it fits.")
    return _(
        "The readings can't guarantee that it goes in: "
        "at worst it is %(off)s thicker than its slot."
    ) % {"off": off_text(-fit.least_mm, showing)}


def _room(fit: JointFit, showing: Showing) -> str:
    """Say how much room is left, from the least to the most."""
    most = off_text(fit.most_mm, showing)
    if fit.least_mm < 0:
        return _("from none to %(most)s of room") % {"most": most}
    least = off_text(fit.least_mm, showing)
    return _("%(least)s to %(most)s of room") % {"least": least, "most": most}


def _distance(fit: DistanceFit, showing: Showing) -> CertaintyLine:
    unsure = fit.uncertainty
    is_read = bool(unsure.shares)
    state = "certain" if fit.is_certain else "doubt"
    if fit.mm is None or fit.unmeasured:
        state = "unmeasured"
    return CertaintyLine(
        name=fit.distance.name,
        state=state,
        value=showing.of(fit.mm) if fit.mm is not None else None,
        said=_distance_words(fit, showing),
        worst=f"±{off_text(unsure.worst_mm, showing)}" if is_read else "",
        spread=off_text(unsure.spread_mm, showing) if is_read else "",
        repeat="" if fit.is_certain else _repeat_words(fit.repeat, showing),
    )


def _distance_words(fit: DistanceFit, showing: Showing) -> str:
    mark = off_text(fit.mark_mm, showing)
    if fit.mm is None:
        return _("Nothing fixes it yet.")
    if fit.unmeasured:
        return _("Not measured yet: %(list)s. Their thickness is the plan's.") % {
            "list": ", ".join(fit.unmeasured)
        }
    if not fit.uncertainty.shares:
        return _("As the plan wants it; no reading enters into it.")
    if fit.is_certain:
        return _("Certain to a mark of the tape, %(mark)s.") % {"mark": mark}
    return _("Not certain to a mark of the tape, %(mark)s.") % {"mark": mark}
