"""What can be made of two parts that were pointed at in the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from urllib.parse import urlencode

from django.utils.translation import gettext as _

from projects.engine.draft import Document
from projects.engine.draft.document import name_of
from projects.engine.draft.records import Look
from projects.engine.drawing import Box
from projects.engine.plan.records import AXES, FACES, Axis, Face, FaceName
from projects.present.draft_notes import Way
from projects.present.draft_words import face_words


@dataclass(frozen=True, kw_only=True)
class Picked:
    """The parts pointed at, one or two, and what can be opened for them."""

    keys: tuple[str, ...]
    names: tuple[str, ...]
    ways: tuple[Way, ...]


def picked(document: Document, look: Look, keys: Sequence[str]) -> Picked | None:
    """Return what the last one or two of `keys` make; None for parts not drawn."""
    boxes = {drawn.box.key: drawn.box for drawn in look.drawn}
    known = [key for key in dict.fromkeys(keys) if key in boxes][-2:]
    if not known:
        return None
    names = tuple(name_of(document, "parts", key) for key in known)
    if len(known) == 1:
        query = urlencode({"open": f"parts:{known[0]}"})
        ways = [Way(words=_("Open %(part)s") % {"part": names[0]}, query=query)]
    else:
        ways = _ways(document, look, boxes[known[0]], boxes[known[1]])
    return Picked(keys=tuple(known), names=names, ways=tuple(ways))


def _ways(document: Document, look: Look, one: Box, other: Box) -> list[Way]:
    low, high = _facing(one, other)
    guest, host = _guest_first(look, low, high)
    flush_one, flush_other = _nearest(one, other, apart_from=low.axis)
    return [
        Way(
            words=_("Join %(guest)s to %(host)s")
            % {
                "guest": face_words(document, str(guest)),
                "host": face_words(document, str(host)),
            },
            query=_query("joints", guest=guest, host=host),
        ),
        Way(
            words=_("Set the distance between them"),
            query=_query("distances", **{"from": low, "to": high}),
        ),
        Way(
            words=_("Make their %(face)s faces flush") % {"face": flush_one.name},
            query=_query("flush", **{"from": flush_one, "to": flush_other}),
        ),
    ]


def _query(list_name: str, **faces: Face) -> str:
    fields = {"open": f"{list_name}:new"}
    for prefix, face in faces.items():
        fields |= {f"{prefix}_part": face.part, f"{prefix}_face": face.name}
    return urlencode(fields)


def _span(box: Box, axis: Axis) -> tuple[Fraction, Fraction]:
    span: tuple[Fraction, Fraction] = getattr(box, axis)
    return span


def _ends(axis: Axis) -> tuple[FaceName, FaceName]:
    low, high = (name for name, (on, _high) in FACES.items() if on == axis)
    return low, high


def _facing(one: Box, other: Box) -> tuple[Face, Face]:
    """Return the two faces that look at each other across the smallest gap.

    The one that lies lower on the axis comes first. Of faces that touch, those of
    parts that overlap on both other axes go first.
    """
    found = []
    for axis in AXES:
        across = [other_axis for other_axis in AXES if other_axis != axis]
        beside = sum(not _overlap(one, other, across_axis) for across_axis in across)
        for lower, upper in ((one, other), (other, one)):
            gap = _span(upper, axis)[0] - _span(lower, axis)[1]
            low_name, high_name = _ends(axis)
            faces = (
                Face(part=lower.key, name=high_name),
                Face(part=upper.key, name=low_name),
            )
            found.append((beside, abs(gap), AXES.index(axis), faces))
    return min(found, key=lambda item: item[:3])[3]


def _overlap(one: Box, other: Box, axis: Axis) -> bool:
    (low, high), (other_low, other_high) = _span(one, axis), _span(other, axis)
    return low < other_high and other_low < high


def _guest_first(look: Look, low: Face, high: Face) -> tuple[Face, Face]:
    """Return the two faces with the guest's first: an end goes into a wide face."""
    parts = look.plan.part_by_key if look.plan else {}

    def is_wide(face: Face) -> bool:
        return face.part in parts and parts[face.part].axes["thickness"] == face.axis

    return (high, low) if is_wide(low) and not is_wide(high) else (low, high)


def _nearest(one: Box, other: Box, *, apart_from: Axis) -> tuple[Face, Face]:
    """Return the two faces of one name that are nearest to lying in one plane."""
    found = []
    for name, (axis, is_high) in FACES.items():
        if axis != apart_from:
            apart = abs(_span(one, axis)[is_high] - _span(other, axis)[is_high])
            found.append((apart, name))
    name = min(found)[1]
    return Face(part=one.key, name=name), Face(part=other.key, name=name)
