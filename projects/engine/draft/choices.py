"""Which faces can be picked: for a joint's host, for a distance, for flush lists."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from projects.engine.draft.document import (
    Document,
    entries,
    face_words,
    keyed,
    known_face,
)
from projects.engine.draft.ties import opposite
from projects.engine.plan.records import FACES


@dataclass(frozen=True, kw_only=True)
class Choice:
    """Hold a face to pick; `joined` where a joint ties it to the one asked about."""

    face: str
    part: str
    words: str
    joined: bool = False


def faces_facing(document: Document, guest: str) -> tuple[Choice, ...]:
    """Return the faces that can be a guest face's host: of other parts, opposite.

    Raises `EngineError` where there is no such guest face.
    """
    part, name = known_face(document, guest)
    wanted = opposite(name)
    others = (key for key in keyed(document, "parts") if key != part)
    return _choices(document, (f"{key}.{wanted}" for key in others), guest)


def faces_on_axis(document: Document, face: str) -> tuple[Choice, ...]:
    """Return every other face on a face's axis.

    Raises `EngineError` where there is no such face.
    """
    _, name = known_face(document, face)
    axis = FACES[name][0]
    names = [of for of, (on, _) in FACES.items() if on == axis]
    every = (f"{key}.{of}" for key in keyed(document, "parts") for of in names)
    return _choices(document, (other for other in every if other != face), face)


def faces_of(document: Document, part: str) -> tuple[Choice, ...]:
    """Return the six faces of a part; none where there is no such part."""
    if part not in keyed(document, "parts"):
        return ()
    return _choices(document, (f"{part}.{name}" for name in FACES), "")


def _choices(
    document: Document, faces: Iterable[str], asked: str
) -> tuple[Choice, ...]:
    joints = {
        frozenset((str(joint.get("guest")), str(joint.get("host"))))
        for joint in entries(document, "joints")
        if isinstance(joint, dict)
    }
    return tuple(
        Choice(
            face=face,
            part=face.split(".")[0],
            words=face_words(document, face),
            joined=frozenset((face, asked)) in joints,
        )
        for face in faces
    )
