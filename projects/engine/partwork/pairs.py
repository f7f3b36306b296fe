"""Two parts of a pair, the second turned so that it mirrors the first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from projects.engine.drawing.records import Interval
from projects.engine.drawing.worked import PartWork, SlotMark, WorkedFace
from projects.engine.plan.records import AXES, FACES, Axis, FaceName

SAME_MM = Fraction(2)
"""How far the places of two cuts may differ and still mirror each other [mm].

No two boards are equally thick, and what depends on it is not equal either.
Source: common practice, no source.
"""


def mirrored(one: PartWork, other: PartWork) -> PartWork | None:
    """Return the other part with its faces in the order and turn of a mirror image.

    None where no axis makes the two mirror images of each other.
    """
    for axis in AXES:
        faces = _all_mirrored(one, other, axis)
        if faces is not None:
            return replace(other, faces=faces)
    return None


def _all_mirrored(
    one: PartWork, other: PartWork, axis: Axis
) -> tuple[WorkedFace, ...] | None:
    left = list(other.faces)
    found = []
    for face in one.faces:
        image = next(
            (
                (candidate, made)
                for candidate in left
                if (made := _image(face, candidate, axis))
            ),
            None,
        )
        if image is None:
            return None
        left.remove(image[0])
        found.append(image[1])
    return None if left else tuple(found)


def _image(face: WorkedFace, other: WorkedFace, axis: Axis) -> WorkedFace | None:
    """Return `other` turned as the mirror image of `face`, if it is one."""
    wanted = _opposite(face.face) if _axis(face.face) == axis else face.face
    if other.face != wanted and (other.free or other.either):
        other = _from_behind(other)
    same = (
        other.face == wanted
        and (bool(face.either), face.free) == (bool(other.either), other.free)
        and face.u_ends == other.u_ends
        and _near(face.width_mm, other.width_mm)
        and _near(face.height_mm, other.height_mm)
        and len(face.marks) == len(other.marks)
    )
    marks = _matched(face, other, axis) if same else None
    if marks is None:
        return None
    turned = _axis(face.u_ends[0]) == axis
    return replace(
        other,
        marks=marks,
        u_reversed=turned,
        v_reversed=other.v_reversed is not turned,
    )


def _matched(
    face: WorkedFace, other: WorkedFace, axis: Axis
) -> tuple[SlotMark, ...] | None:
    """Return the marks of `other` in the order of those they mirror."""

    def place(ends: tuple[str, str], whole: Fraction) -> Callable[[Interval], Interval]:
        if _axis(ends[0]) == axis:
            return lambda span: (whole - span[1], whole - span[0])
        return lambda span: span

    u = place(face.u_ends, other.width_mm)
    v = place(face.v_ends, other.height_mm)
    left = list(other.marks)
    found = []
    for mark in face.marks:
        image = next(
            (
                candidate
                for candidate in left
                if (candidate.kind, candidate.title) == (mark.kind, mark.title)
                and _near_span(u(candidate.u), mark.u)
                and _near_span(v(candidate.v), mark.v)
            ),
            None,
        )
        if image is None:
            return None
        left.remove(image)
        found.append(image)
    return tuple(found)


def _from_behind(face: WorkedFace) -> WorkedFace:
    """Return a face that could as well be the opposite one, seen from there."""
    opposite = _opposite(face.face)
    return replace(
        face,
        face=opposite,
        either=face.face if face.either else "",
        v_reversed=not face.v_reversed,
    )


def _axis(name: str) -> Axis:
    return next(axis for face, (axis, _) in FACES.items() if face == name)


def _opposite(name: str) -> FaceName:
    axis = _axis(name)
    return next(face for face, (of, _) in FACES.items() if of == axis and face != name)


def _near(one: Fraction, other: Fraction) -> bool:
    return abs(one - other) <= SAME_MM


def _near_span(one: Interval, other: Interval) -> bool:
    return _near(one[0], other[0]) and _near(one[1], other[1])
