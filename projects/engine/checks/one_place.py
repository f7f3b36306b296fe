"""Two parts in one place: nothing joins them, and yet they run through each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from projects.engine.checks.look import Look
from projects.engine.checks.records import (
    PRACTICE,
    Amount,
    Check,
    Finding,
    at_part,
    finding_key,
    words,
)
from projects.engine.plan.records import AXES, Axis, Joint, Part
from projects.engine.units import mm_per

KEY = "one_place"
UNSEEN_MM = mm_per("in") / 64
"""Less than this is what readings differ by, no fault of the plan.

Source: common practice, no source.
"""

Span = tuple[Fraction, Fraction]


@dataclass(frozen=True, kw_only=True)
class _Body:
    """Hold a block of wood: on each axis from where to where, from the part's ends."""

    part: Part
    spans: Mapping[Axis, Span]


def _bodies(look: Look, part: Part) -> list[_Body]:
    """Return a part as blocks: what stands free, and each tenon in its host."""
    free: dict[Axis, Span] = {
        axis: (Fraction(0), look.extent_mm(part, axis)) for axis in AXES
    }
    tenons = []
    for joint in look.plan.joints:
        if joint.guest.part != part.key or joint.kind != "tenon":
            continue
        axis, deep_mm = joint.guest.axis, look.depth_mm(joint)
        low, high = free[axis]
        tip = (high - deep_mm, high) if joint.guest.is_high else (low, low + deep_mm)
        rest = (low, high - deep_mm) if joint.guest.is_high else (low + deep_mm, high)
        tenons.append((joint, axis, tip))
        free[axis] = rest
    whole = {axis: (Fraction(0), look.extent_mm(part, axis)) for axis in AXES}
    return [
        _Body(part=part, spans=free),
        *(
            _Body(part=part, spans={**whole, **_inset(look, joint, part), axis: tip})
            for joint, axis, tip in tenons
        ),
    ]


def _inset(look: Look, joint: Joint, part: Part) -> dict[Axis, Span]:
    """Return what a tenon's shoulders leave of its part, across it."""
    left: dict[Axis, Span] = {}
    for inset in look.solution.cuts[joint.key].insets:
        across = part.across(joint.guest.axis)
        axis = part.axes[across if inset.of == "across" else inset.of]
        left[axis] = (inset.mm, look.extent_mm(part, axis) - inset.mm)
    return left


def _shared_mm(look: Look, one: _Body, other: _Body) -> Fraction:
    """Return how far two blocks run through each other; 0 where it isn't told."""
    shared = []
    for axis in AXES:
        faces = one.part.faces_on(axis)[0], other.part.faces_on(axis)[0]
        apart_mm = look.between_mm(*faces)
        if apart_mm is None:
            return Fraction(0)
        (low, high), (other_low, other_high) = one.spans[axis], other.spans[axis]
        shared.append(min(high, apart_mm + other_high) - max(low, apart_mm + other_low))
        if shared[-1] <= UNSEEN_MM:
            return Fraction(0)
    return min(shared)


def _may_meet(look: Look, one: Part, other: Part) -> bool:
    """Return whether two parts can share room, told without working out a sum."""
    system, values = look.solution.system, look.solution.values
    for axis in AXES:
        (low, high), (other_low, other_high) = (
            [system.positions[face].value(values) for face in part.faces_on(axis)]
            for part in (one, other)
        )
        if high <= other_low or other_high <= low:
            return False
    return True


def _find(look: Look) -> Iterator[Finding]:
    for one, other in combinations(look.plan.parts, 2):
        if other.key in look.neighbours[one.key] or not _may_meet(look, one, other):
            continue
        by_mm = max(
            _shared_mm(look, body, against)
            for body in _bodies(look, one)
            for against in _bodies(look, other)
        )
        if not by_mm:
            continue
        here = [at_part(one), at_part(other)]
        yield Finding(
            check=KEY,
            key=finding_key(KEY, here),
            level="warning",
            what=words(
                "{one} and {other} run {by} through each other",
                one=one.name,
                other=other.name,
                by=look.said(by_mm),
            ),
            why=words(
                "Two parts can't be in one place. Move one, shorten it or its "
                "tenon, or join the two."
            ),
            source=PRACTICE,
            where=tuple(here),
            amounts=(Amount(name="through each other", value=by_mm),),
        )


CHECK = Check(key=KEY, title="Parts in one place", find=_find)
