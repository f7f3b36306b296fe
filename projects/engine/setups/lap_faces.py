"""Which wide face each half lap is cut from: opposite ones on two parts that meet.

A plan doesn't say which. Where its joints allow it a part keeps one face for all its
laps, and mirrored parts are cut on mirrored faces.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from functools import lru_cache

from projects.engine.plan.records import FaceName, Joint
from projects.engine.setups.setting_sums import Sums

LAP = "half_lap"


def host_face(sums: Sums, joint: Joint) -> FaceName:
    """Return the wide face that a half lap is cut from in its host."""
    _, host = sums.parts_of(joint)
    return host.faces_on(host.axes["thickness"])[lap_sides(sums)[host.key]].name


def guest_face(sums: Sums, joint: Joint) -> FaceName:
    """Return the wide face that a half lap is cut from in its guest."""
    guest, host = sums.parts_of(joint)
    return guest.faces_on(guest.axes["thickness"])[not lap_sides(sums)[host.key]].name


@lru_cache(maxsize=4)
def lap_sides(sums: Sums) -> Mapping[str, bool]:
    """Return for each part in a half lap whether its high wide face is the cut one.

    Parts that meet take turns: a colouring with two colours. Round a loop with an odd
    number of parts that can't come out; there one guest is cut from both faces.
    """
    meets: dict[str, list[str]] = defaultdict(list)
    laps = [joint for joint in sums.plan.joints if joint.kind == LAP]
    for joint in laps:
        meets[joint.host.part].append(joint.guest.part)
        meets[joint.guest.part].append(joint.host.part)
    sides: dict[str, bool] = {}
    for joint in laps:
        if joint.host.part not in sides:
            found = _spread(joint.host.part, meets)
            likes = {key: _like_its_pair(sums, key, sides) for key in found}
            if any(like is (not found[key]) for key, like in likes.items()):
                found = {key: not high for key, high in found.items()}
            sides |= found
    return sides


def _spread(start: str, meets: Mapping[str, list[str]]) -> dict[str, bool]:
    """Return the parts joined to one by laps, each on the other side than the last."""
    found, left = {start: True}, [start]
    while left:
        key = left.pop(0)
        for other in meets[key]:
            if other not in found:
                found[other] = not found[key]
                left.append(other)
    return found


def _like_its_pair(sums: Sums, key: str, sides: Mapping[str, bool]) -> bool | None:
    """Return the side that mirrors its pair's; None where that has none yet."""
    part = sums.plan.part_by_key[key]
    if part.pair is None or part.pair not in sides:
        return None
    apart = sums.pair_is_higher(part, part.axes["thickness"]) is not None
    return sides[part.pair] is not apart
