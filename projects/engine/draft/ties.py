"""Add, change and remove what ties parts together: joints and distances."""

from __future__ import annotations

from typing import Any

from projects.engine.draft.document import (
    Document,
    Entry,
    added,
    entries,
    face_parts,
    find,
    keyed,
    known_face,
    known_fields,
    name_of,
    new_key,
    put,
    removed,
    replaced,
    whole,
)
from projects.engine.draft.references import in_steps
from projects.engine.errors import EngineError
from projects.engine.joints import KINDS
from projects.engine.plan.fields import brief
from projects.engine.plan.records import Face

DETAILS = {"dado": "stops", "tenon": "tenon", "dowel": "dowels"}
"""The field that only joints of a kind have."""

JOINT_FIELDS = ("name", "kind", "guest", "host", "depth", "clearance")
DISTANCE_FIELDS = ("name", "start", "end", "value", "held", "measure", "fits")


def add_joint(
    document: Document, *, kind: str, guest: str, host: str, **fields: Any
) -> Document:
    """Return the document with one more joint.

    `fields` are those of `change_joint`. Raises `EngineError` for a kind that isn't
    known, and faces that don't look at each other or are of one part.
    """
    parts = [
        name_of(document, "parts", known_face(document, face)[0])
        for face in (guest, host)
    ]
    name = fields.get("name") or "{} in {}".format(*parts)
    key = new_key(document, "joints", name)
    made = added(document, "joints", {"key": key})
    return change_joint(made, key, kind=kind, guest=guest, host=host, **fields)


def change_joint(document: Document, key: str, **fields: Any) -> Document:
    """Return the document with fields of a joint changed.

    name, kind, guest, host, depth, clearance, stops, tenon, dowels. Of those the
    kind has no use for, what was there goes. Raises what `add_joint` raises.
    """
    index = find(document, "joints", key)
    known_fields(fields, (*JOINT_FIELDS, *DETAILS.values()), "joints")
    made = put(entries(document, "joints")[index], fields)
    if "kind" in fields:
        _check_kind(fields["kind"])
    for name in ("guest", "host"):
        if name in fields:
            known_face(document, fields[name])
    if "guest" in fields or "host" in fields:
        _check_faces(made)
    return replaced(document, "joints", index, _fitting(made))


def _check_kind(kind: Any) -> None:
    if not isinstance(kind, str) or kind not in KINDS:
        raise EngineError(
            "a joint is one of {kinds} (read: {read})",
            kinds=", ".join(KINDS),
            read=brief(kind),
        )


def _check_faces(joint: Entry) -> None:
    (guest, guest_name), (host, host_name) = (
        face_parts(joint.get(end)) for end in ("guest", "host")
    )
    if guest and guest == host:
        raise EngineError("a joint needs two parts, and both faces are of {p}", p=host)
    if guest and host:
        wanted = opposite(host_name)
        if guest_name != wanted:
            raise EngineError(
                "the two faces must look at each other: {host} needs a {wanted} face "
                "(read: {guest})",
                host=joint["host"],
                wanted=wanted,
                guest=joint["guest"],
            )


def is_sound(document: Document, joint: Entry) -> bool:
    """Say whether a joint is of a known kind, between faces that there are."""
    try:
        _check_kind(joint.get("kind"))
        for end in ("guest", "host"):
            known_face(document, joint.get(end))
        _check_faces(joint)
    except EngineError:
        return False
    return True


def opposite(name: str) -> str:
    """Return the name of the face that a face of this name looks at."""
    pairs = (("left", "right"), ("front", "back"), ("bottom", "top"))
    both = {a: b for pair in pairs for a, b in (pair, pair[::-1])}
    return both.get(name, "")


def _fitting(joint: Entry) -> Entry:
    """Return a joint without the fields its kind has no use for."""
    kind = joint.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        return joint
    own = DETAILS.get(kind)
    useless = {name for name in DETAILS.values() if name != own}
    if KINDS[kind].depth == "none":
        useless.add("depth")
    return {name: value for name, value in joint.items() if name not in useless}


def remove_joint(document: Document, key: str) -> Document:
    """Return the document without a joint."""
    made = removed(document, "joints", find(document, "joints", key))
    return in_steps(made, "joints", key, None)


def add_distance(
    document: Document, *, name: str, start: str, end: str, **fields: Any
) -> Document:
    """Return the document with one more distance, from `start` to `end`.

    `fields` are those of `change_distance`. Raises `EngineError` for faces that
    there aren't or that lie on two axes.
    """
    key = new_key(document, "distances", name)
    made = added(document, "distances", {"key": key})
    return change_distance(made, key, name=name, start=start, end=end, **fields)


def change_distance(document: Document, key: str, **fields: Any) -> Document:
    """Return the document with fields of a distance changed.

    name, start, end, value, held, measure, fits. Without a value there is no rank,
    and without a measure nothing it fits: they go with it.
    Raises what `add_distance` raises, and for a part in `fits` that there isn't.
    """
    index = find(document, "distances", key)
    known_fields(fields, DISTANCE_FIELDS, "distances")
    if "held" in fields:
        fields["held"] = whole(fields["held"])
    for part in fields.get("fits") or ():
        if part not in keyed(document, "parts"):
            raise EngineError("there is no part {part}", part=brief(part))
    if fields.get("fits"):
        fields["fits"] = list(fields["fits"])
    for name, of in (("start", "from"), ("end", "to")):
        if name in fields:
            known_face(document, fields[name])
            fields[of] = fields.pop(name)
    old = entries(document, "distances")[index]
    made = put(old, fields)
    if "from" in fields or "to" in fields:
        _check_ends(made)
    for name, needs in (("held", "value"), ("fits", "measure")):
        if needs in old and needs not in made:
            made.pop(name, None)
    return replaced(document, "distances", index, made)


def _check_ends(distance: Entry) -> None:
    ends = [face_parts(distance.get(end)) for end in ("from", "to")]
    if not all(part for part, _ in ends):
        return
    one, other = (Face(part=part, name=name) for part, name in ends)  # type: ignore[arg-type]
    if one == other or one.axis != other.axis:
        raise EngineError(
            "a distance lies between two faces on one axis (read: {one} and {other})",
            one=one,
            other=other,
        )


def remove_distance(document: Document, key: str) -> Document:
    """Return the document without a distance."""
    made = removed(document, "distances", find(document, "distances", key))
    return in_steps(made, "distances", key, None)
