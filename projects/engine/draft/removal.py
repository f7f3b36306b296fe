"""Take a part out of a document, with everything that names it."""

from __future__ import annotations

from typing import Any

from projects.engine.draft.document import (
    Document,
    ListName,
    entries,
    face_parts,
    find,
    keyed,
    name_of,
    with_list,
)
from projects.engine.draft.records import Note, Ref
from projects.engine.draft.references import in_steps


class Gone(Note):
    """Say what goes, or changes, when a part is removed."""


def what_goes(document: Document, key: str) -> tuple[Gone, ...]:
    """Return what else goes when a part is removed, in the document's order."""
    return _without(document, key)[1]


def remove_part(document: Document, key: str) -> Document:
    """Return the document without a part and all that `what_goes` says."""
    return _without(document, key)[0]


def _without(document: Document, key: str) -> tuple[Document, tuple[Gone, ...]]:
    find(document, "parts", key)
    made, gone = document, []
    # the part itself last: till then it says what it is called
    for step in (_joints, _distances, _flush, _even, _parts):
        made, more = step(made, key)
        gone += more
    stepped, more = _steps(document, made, key)
    return stepped, (*gone, *more)


def _names(face: Any, key: str) -> bool:
    return face_parts(face)[0] == key


def _parts(document: Document, key: str) -> tuple[Document, list[Gone]]:
    every, gone = [], []
    for n, part in enumerate(entries(document, "parts")):
        if isinstance(part, dict) and part.get("key") == key:
            continue
        kept = part
        if isinstance(part, dict) and part.get("pair") == key:
            kept = {k: v for k, v in part.items() if k != "pair"}
            name = name_of(document, "parts", str(part.get("key")))
            gone.append(
                Gone(
                    message="{part} is no longer one of a pair",
                    values={"part": name},
                    at=(_ref("parts", n, part),),
                )
            )
        every.append(kept)
    return with_list(document, "parts", every), gone


def _joints(document: Document, key: str) -> tuple[Document, list[Gone]]:
    every, gone = [], []
    for n, joint in enumerate(entries(document, "joints")):
        faces = joint if isinstance(joint, dict) else {}
        if not any(_names(faces.get(end), key) for end in ("guest", "host")):
            every.append(joint)
            continue
        ends = [
            name_of(document, "parts", face_parts(joint.get(end))[0])
            for end in ("guest", "host")
        ]
        name = joint.get("name") or "{} in {}".format(*ends)
        gone.append(
            Gone(
                message="the joint {joint} goes",
                values={"joint": name},
                at=(_ref("joints", n, joint),),
            )
        )
    return (with_list(document, "joints", every) if gone else document), gone


def _distances(document: Document, key: str) -> tuple[Document, list[Gone]]:
    every, gone = [], []
    for n, distance in enumerate(entries(document, "distances")):
        fields = distance if isinstance(distance, dict) else {}
        if any(_names(fields.get(end), key) for end in ("from", "to")):
            message = "the distance {distance} goes"
        elif isinstance(fields.get("fits"), list) and key in fields["fits"]:
            message = "the distance {distance} no longer fits it"
            fits = [part for part in fields["fits"] if part != key]
            kept = {k: v for k, v in fields.items() if k != "fits"}
            every.append({**kept, "fits": fits} if fits else kept)
        else:
            every.append(distance)
            continue
        name = fields.get("name", fields.get("key"))
        ref = _ref("distances", n, fields)
        gone.append(Gone(message=message, values={"distance": name}, at=(ref,)))
    return (with_list(document, "distances", every) if gone else document), gone


def _flush(document: Document, key: str) -> tuple[Document, list[Gone]]:
    every, gone = [], []
    for n, faces in enumerate(entries(document, "flush")):
        listed = faces if isinstance(faces, list) else []
        rest = [face for face in listed if not _names(face, key)]
        if len(rest) == len(listed):
            every.append(faces)
            continue
        if len(rest) > 1:
            every.append(rest)
            message = "flush list {number} loses a face"
        else:
            message = "flush list {number} goes"
        ref = Ref(list_name="flush", index=n)
        gone.append(Gone(message=message, values={"number": n + 1}, at=(ref,)))
    return (with_list(document, "flush", every) if gone else document), gone


def _even(document: Document, key: str) -> tuple[Document, list[Gone]]:
    every, gone = [], []
    for n, pairs in enumerate(entries(document, "even")):
        listed = pairs if isinstance(pairs, list) else []
        rest = [
            pair
            for pair in listed
            if not (isinstance(pair, list) and any(_names(face, key) for face in pair))
        ]
        if len(rest) == len(listed):
            every.append(pairs)
            continue
        if len(rest) > 1:
            every.append(rest)
            message = "even list {number} loses a space"
        else:
            message = "even list {number} goes"
        ref = Ref(list_name="even", index=n)
        gone.append(Gone(message=message, values={"number": n + 1}, at=(ref,)))
    return (with_list(document, "even", every) if gone else document), gone


def _steps(old: Document, document: Document, key: str) -> tuple[Document, list[Gone]]:
    """Take out of the steps what went with the part."""
    made = in_steps(document, "parts", key, None)
    names: tuple[ListName, ...] = ("joints", "distances")
    for list_name in names:
        kept = keyed(document, list_name)
        for other in keyed(old, list_name):
            if other not in kept:
                made = in_steps(made, list_name, other, None)
    gone = []
    steps = zip(entries(document, "steps"), entries(made, "steps"), strict=True)
    for n, (before, after) in enumerate(steps):
        if before != after:
            title = before.get("title", before.get("key"))
            gone.append(
                Gone(
                    message="the step {step} no longer names what goes",
                    values={"step": title},
                    at=(_ref("steps", n, before),),
                )
            )
    return made, gone


def _ref(list_name: str, index: int, entry: dict[str, Any]) -> Ref:
    return Ref(list_name=list_name, index=index, key=str(entry.get("key", "")))
