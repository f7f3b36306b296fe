"""Make the mirror image of a part, with its joints and flush faces.

The partner stands across the piece: its joints are the part's, seen in a mirror,
and on the two other axes its faces are flush with the part's. Only its place along
the mirrored axis is left to be said, mostly by an overall width.
"""

from __future__ import annotations

import re
from typing import Any

from projects.engine.draft.document import (
    Document,
    Entry,
    entries,
    face_parts,
    find,
    keyed,
    with_list,
)
from projects.engine.draft.flush import make_flush
from projects.engine.draft.parts import duplicate_part, pair_parts
from projects.engine.draft.ties import (
    DETAILS,
    JOINT_FIELDS,
    add_joint,
    is_sound,
    opposite,
)
from projects.engine.errors import EngineError
from projects.engine.plan.fields import brief
from projects.engine.plan.records import AXES, FACES, Axis

ENDS: dict[Axis, tuple[str, str]] = {
    "x": ("left", "right"),
    "y": ("front", "back"),
    "z": ("bottom", "top"),
}


def make_pair(
    document: Document, key: str, *, name: str | None = None, axis: Axis = "x"
) -> Document:
    """Return the document with a part's mirror image right after it.

    `axis` is the one it is mirrored along. Without `name` left becomes right in it.
    Raises `EngineError` where the part already is one of a pair.
    """
    index = find(document, "parts", key)
    part = entries(document, "parts")[index]
    if part.get("pair"):
        raise EngineError(
            "{name} already has a partner: {pair}",
            name=part.get("name", key),
            pair=brief(part["pair"]),
        )
    if axis not in AXES:
        raise EngineError("an axis is one of x, y, z (read: {read})", read=brief(axis))
    own = str(part.get("name", key))
    made = duplicate_part(document, key, name=name or _mirrored_name(own, axis))
    partner = entries(made, "parts")[index + 1]["key"]
    made = pair_parts(made, key, partner)
    mirror = _Mirror(made, axis)
    made, tied = _mirror_joints(made, key, mirror)
    made = _mirror_flush(made, key, mirror)
    return _flush_across(made, part, partner, axis, tied)


class _Mirror:
    """Turn faces of one half of the piece into those of the other."""

    def __init__(self, document: Document, axis: Axis) -> None:
        self.ends = ENDS[axis]
        self.parts = {
            key: part["pair"] if isinstance(part.get("pair"), str) else key
            for key, (_, part) in keyed(document, "parts").items()
        }

    def name(self, face_name: str) -> str:
        return opposite(face_name) if face_name in self.ends else face_name

    def face(self, face: Any) -> str:
        part, name = face_parts(face)
        return f"{self.parts.get(part, part)}.{self.name(name)}"


def _mirrored_name(name: str, axis: Axis) -> str:
    low, high = ENDS[axis]
    swap = {low: high, high: low, low.title(): high.title(), high.title(): low.title()}
    words = "|".join(swap)
    made = re.sub(rf"\b({words})\b", lambda found: swap[found[0]], name)
    return made if made != name else f"{name}, mirrored"


def _mirror_joints(
    document: Document, key: str, mirror: _Mirror
) -> tuple[Document, set[str]]:
    """Return the document with a part's joints mirrored, and the faces they tie."""
    made, tied = document, set()
    guests = {
        joint["guest"]
        for joint in entries(document, "joints")
        if isinstance(joint, dict) and isinstance(joint.get("guest"), str)
    }
    for joint in entries(document, "joints"):
        if not isinstance(joint, dict) or not is_sound(document, joint):
            continue
        faces = [joint[end] for end in ("guest", "host")]
        if key not in [face_parts(face)[0] for face in faces]:
            continue
        guest, host = (mirror.face(face) for face in faces)
        if guest not in guests or guest == faces[0]:
            tied |= {guest, host}
            made = add_joint(made, guest=guest, host=host, **_details(joint, mirror))
            guests.add(guest)
    return made, tied


def _details(joint: Entry, mirror: _Mirror) -> dict[str, Any]:
    """Return the fields of a joint's mirror image but its faces."""
    fields = {
        name: value
        for name, value in joint.items()
        if name in (*JOINT_FIELDS, *DETAILS.values()) and name not in ("guest", "host")
    }
    if isinstance(fields.get("stops"), list):
        fields["stops"] = [
            {**stop, "at": mirror.name(stop["at"])}
            if isinstance(stop, dict) and isinstance(stop.get("at"), str)
            else stop
            for stop in fields["stops"]
        ]
    if isinstance(fields.get("name"), str):
        low, _ = mirror.ends
        axis = FACES[low][0]  # type: ignore[index]
        fields["name"] = _mirrored_name(fields["name"], axis)
    return fields


def _mirror_flush(document: Document, key: str, mirror: _Mirror) -> Document:
    """Return the document with what is flush on the mirrored axis flush there too."""
    every = entries(document, "flush")
    made = list(every)
    for faces in every:
        listed = faces if isinstance(faces, list) else []
        own = [face for face in listed if face_parts(face)[0] == key]
        if any(face_parts(face)[1] in mirror.ends for face in own):
            made.append([mirror.face(face) for face in listed])
    return with_list(document, "flush", made)


def _flush_across(
    document: Document, part: Entry, partner: str, axis: Axis, tied: set[str]
) -> Document:
    """Return the document with the partner flush on the two other axes.

    A face that a mirrored joint holds is held; and one face is enough on the axis of
    the thickness, as two would say that two boards are equally thick.
    """
    listed = {
        face
        for faces in entries(document, "flush")
        if isinstance(faces, list)
        for face in faces
        if isinstance(face, str)
    }
    made = document
    for other, names in ENDS.items():
        if other == axis:
            continue
        # a face that is flush with others already goes first
        order = sorted(names, key=lambda name: f"{part['key']}.{name}" not in listed)
        free = [name for name in order if f"{partner}.{name}" not in tied]
        if part.get("thickness") == other:
            free = free[:1] if len(free) == 2 else []
        for name in free:
            made = make_flush(made, f"{part['key']}.{name}", f"{partner}.{name}")
    return made
