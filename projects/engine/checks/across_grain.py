"""Solid wood held across its grain by something that doesn't move with it splits.

It is held along one joint, where its width runs beside another part's length, or
at both edges, between two parts that a third keeps apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from projects.engine.checks.look import Look, other_end
from projects.engine.checks.moving import (
    GLUED,
    cannot_tell,
    keeps,
    moves,
    swell,
    swing,
    swing_source,
    trapped,
)
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    Level,
    Where,
    Words,
    at_joint,
    at_part,
    finding_key,
    words,
)
from projects.engine.plan.records import AXES, Axis, Joint, Part

KEY = "across_grain"
WHY = (
    "Wood moves across its grain and hardly along it. From {swing} moisture, sawn "
    "flat, {width} of {mover} changes by {moved}. {cure}"
)
CURE = "Turn its grain, or leave it free to move."
LOOSE = (
    "If it is glued or screwed tight it splits or bows: fix it with buttons or "
    "screws in slots, or turn its grain."
)


def _find(look: Look) -> Iterator[Finding]:
    for joint in look.plan.joints:
        if joint.kind in GLUED:
            yield from _along(look, joint)
    for held in trapped(look):
        joints = (held.low, held.high)
        if any(joint.kind not in GLUED for joint in joints):
            continue  # a panel in a groove is looked at by another check
        here = [at_joint(look.plan, joint) for joint in joints]
        outer = [look.part(other_end(joint, held.part)).name for joint in joints]
        yield from _finding(
            look,
            mover=held.part,
            width_mm=look.extent_mm(held.part, held.axis),
            here=here,
            keeper=held.keeper,
            level=_level(*joints),
            what=words(
                "{mover} is held across its grain between {one} and {other}, which "
                "{keeper} keeps apart",
                mover=held.part.name,
                one=outer[0],
                other=outer[1],
                keeper=held.keeper.name,
            ),
        )


def _along(look: Look, joint: Joint) -> Iterator[Finding]:
    """Yield what one joint holds across the grain along its own length."""
    guest, host = look.part(joint.guest), look.part(joint.host)
    for mover, keeper in ((guest, host), (host, guest)):
        for axis in AXES:
            if not (moves(look, mover, axis) and keeps(look, keeper, axis)):
                continue
            width_mm = _held_mm(look, joint, axis)
            yield from _finding(
                look,
                mover=mover,
                width_mm=width_mm,
                here=[at_joint(look.plan, joint)],
                keeper=keeper,
                level=_level(joint),
                what=words(
                    "{mover} is held across its grain along {width} of {keeper}",
                    mover=mover.name,
                    width=look.said(width_mm),
                    keeper=keeper.name,
                ),
            )


def _held_mm(look: Look, joint: Joint, axis: Axis) -> Fraction:
    """Return along how much of an axis a joint holds [mm]; a tenon less its edges."""
    guest, host = look.part(joint.guest), look.part(joint.host)
    shared_mm = look.overlap_mm(guest, host, axis)
    if axis == guest.axes[guest.across(joint.guest.axis)]:
        insets = look.solution.cuts[joint.key].insets
        shared_mm -= 2 * sum(i.mm for i in insets if i.of == "across")
    return max(Fraction(0), shared_mm)


def _level(*joints: Joint) -> Level:
    """Parts that only touch may be fixed so that they can move."""
    return "advice" if any(joint.kind == "butt" for joint in joints) else "warning"


def _finding(
    look: Look,
    *,
    mover: Part,
    width_mm: Fraction,
    here: list[Where],
    keeper: Part,
    level: Level,
    what: Words,
) -> Iterator[Finding]:
    limit = look.shop.held_mm
    if width_mm <= 0:
        return
    grown = swell(look, mover, width_mm=width_mm)
    if grown.mm <= limit.value:
        return
    if grown.source is None:
        yield cannot_tell(look, KEY, mover)
        return
    about = [*here, at_part(mover)]
    yield Finding(
        check=KEY,
        key=finding_key(KEY, about),
        level=level,
        what=what,
        why=words(
            WHY,
            swing=swing(look),
            width=look.said(width_mm),
            mover=mover.name,
            moved=look.said(grown.mm),
            cure=LOOSE if level == "advice" else CURE,
        ),
        source=f"{swing_source(look, grown.source)}; limit: {limit.source}",
        where=(*about, at_part(keeper)),
        amounts=(
            Amount(name="held across the grain", value=width_mm),
            Amount(name="movement", value=grown.mm),
            Amount(name="allowed", value=limit.value),
        ),
    )


CHECK = Check(key=KEY, title="Wood held across its grain", find=_find)
