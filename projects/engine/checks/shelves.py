"""Which parts of a piece are shelves, and what holds each of them up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from projects.engine.checks.look import Look, other_end
from projects.engine.checks.slots import SLOTS
from projects.engine.plan.records import Axis, Face, Part


@dataclass(frozen=True, kw_only=True)
class Shelf:
    """Hold a shelf, its longest clear span [mm] and the rails along it."""

    part: Part
    span_mm: Fraction
    rails: tuple[Part, ...]


def shelves(look: Look) -> Iterator[Shelf]:
    """Yield each flat part with its grain from end to end that is joined at both."""
    for part in look.plan.parts:
        if part.axes["thickness"] != "z" or _is_panel(look, part):
            continue
        ends = part.faces_on(part.axes["length"])
        if all(look.joints_at[face] for face in ends):
            span_mm = _longest_mm(look, part, ends)
            if span_mm > 0:
                rails = tuple(_rails(look, part, span_mm))
                yield Shelf(part=part, span_mm=span_mm, rails=rails)


def _is_panel(look: Look, part: Part) -> bool:
    """Say whether a part sits in slots along both its long edges too."""
    return all(
        any(j.kind in SLOTS and j.guest == face for j in look.joints_at[face])
        for face in part.faces_on(part.axes["width"])
    )


def _longest_mm(look: Look, part: Part, ends: tuple[Face, Face]) -> Fraction:
    axis = part.axes["length"]
    low_mm, high_mm = (_seat_mm(look, face) for face in ends)
    taken = [(Fraction(0), low_mm), *_supports(look, part, axis)]
    length_mm = look.extent_mm(part, axis)
    taken.append((length_mm - high_mm, length_mm))
    return max(start - end for (_, end), (start, _) in pairwise(sorted(taken)))


def _seat_mm(look: Look, end: Face) -> Fraction:
    """Return how far a shelf's end lies on what holds it [mm]."""
    return min(
        look.depth_mm(joint) if joint.guest == end else Fraction(0)
        for joint in look.joints_at[end]
    )


def _supports(
    look: Look, part: Part, axis: Axis
) -> Iterator[tuple[Fraction, Fraction]]:
    """Yield from where to where uprights that stand on the floor hold a shelf [mm]."""
    bottom = Face(part=part.key, name="bottom")
    for joint in look.joints_at[bottom]:
        upright = look.part(other_end(joint, part))
        start_mm = look.between_mm(part.faces_on(axis)[0], upright.faces_on(axis)[0])
        if upright.axes["length"] == axis or start_mm is None:
            continue
        # an upright on another shelf only hands its load on to that one
        if _stands_on_floor(look, upright):
            yield start_mm, start_mm + look.extent_mm(upright, axis)


def _stands_on_floor(look: Look, upright: Part) -> bool:
    bottom = Face(part=upright.key, name="bottom")
    below = (
        look.between_mm(bottom, Face(part=part.key, name="bottom"))
        for part in look.plan.parts
    )
    return all(mm is None or mm >= 0 for mm in below)


def _rails(look: Look, part: Part, span_mm: Fraction) -> Iterator[Part]:
    """Yield the parts on edge that run along a shelf's span and are joined to it."""
    axis = part.axes["length"]
    for key, joints in look.neighbours[part.key].items():
        rail = look.plan.part_by_key[key]
        along = rail.axes["length"] == axis and rail.axes["width"] == "z"
        reaches = look.overlap_mm(part, rail, axis) >= span_mm
        if along and reaches and any(j.host.axis != axis for j in joints):
            yield rail
