"""A solid panel needs room in its grooves, or it pushes its frame apart."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from projects.engine.checks.look import Look, other_end
from projects.engine.checks.moving import (
    Trapped,
    cannot_tell,
    swell,
    swing,
    swing_source,
    trapped,
)
from projects.engine.checks.records import (
    Amount,
    Check,
    Finding,
    at_joint,
    at_part,
    finding_key,
    words,
)
from projects.engine.plan.records import Joint, Part

KEY = "panel_room"


def _room_mm(look: Look, joint: Joint, panel: Part) -> Fraction:
    """Return how much deeper a groove is than its panel goes in [mm]."""
    if joint.kind != "groove" or joint.guest.part != panel.key:
        return Fraction(0)
    inside_mm = look.between_mm(joint.host, joint.guest)
    return look.depth_mm(joint) - abs(inside_mm or Fraction(0))


def _find(look: Look) -> Iterator[Finding]:
    for held in trapped(look):
        joints = (held.low, held.high)
        if not any(joint.kind == "groove" for joint in joints):
            continue
        room_mm = sum((_room_mm(look, j, held.part) for j in joints), Fraction(0))
        width_mm = look.extent_mm(held.part, held.axis)
        grown = swell(look, held.part, width_mm=width_mm)
        if grown.mm - room_mm <= look.shop.tight_mm.value:
            continue
        if grown.source is None:
            yield cannot_tell(look, KEY, held.part)
            continue
        yield _finding(look, held, room_mm, grown.mm, grown.source)


def _finding(
    look: Look, held: Trapped, room_mm: Fraction, grown_mm: Fraction, figure: str
) -> Finding:
    about = [at_part(held.part)]
    about += [at_joint(look.plan, joint) for joint in (held.low, held.high)]
    one, other = (
        look.part(other_end(joint, held.part)).name for joint in (held.low, held.high)
    )
    return Finding(
        check=KEY,
        key=finding_key(KEY, about),
        level="warning",
        what=words(
            "{panel} can swell {grown} between {one} and {other}, but has {room} of "
            "room in its grooves",
            panel=held.part.name,
            grown=look.said(grown_mm),
            one=one,
            other=other,
            room=look.said(room_mm),
        ),
        why=words(
            "From {swing} moisture, sawn flat, it pushes the frame apart. Cut the "
            "grooves deeper than the panel goes in, or the panel narrower, by {short} "
            "in all, and don't glue it.",
            swing=swing(look),
            short=look.said(grown_mm - room_mm),
        ),
        source=f"{swing_source(look, figure)}; limit: {look.shop.tight_mm.source}",
        where=(*about, at_part(held.keeper)),
        amounts=(
            Amount(name="movement", value=grown_mm),
            Amount(name="room", value=room_mm),
            Amount(name="allowed", value=look.shop.tight_mm.value),
        ),
    )


CHECK = Check(key=KEY, title="Panels without room to move", find=_find)
