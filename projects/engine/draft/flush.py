"""Change which faces are flush and which spaces are even."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from projects.engine.draft.document import (
    Document,
    added,
    entries,
    entry_at,
    face_parts,
    known_face,
    removed,
    replaced,
    with_list,
)
from projects.engine.errors import EngineError
from projects.engine.plan.fields import brief
from projects.engine.plan.records import FACES


def make_flush(document: Document, one: str, other: str) -> Document:
    """Return the document with two faces flush, in one list.

    They join the list that has one of them; two lists become one.
    Raises `EngineError` for faces that can't be flush.
    """
    _check_axis(document, [one, other])
    if one == other:
        raise EngineError("a face is always flush with itself")
    at = [
        n
        for n, faces in enumerate(entries(document, "flush"))
        if isinstance(faces, list) and (one in faces or other in faces)
    ]
    if not at:
        return added(document, "flush", [one, other])
    every = entries(document, "flush")
    merged = [face for n in at for face in every[n]] + [one, other]
    once: list[Any] = []
    for face in merged:
        if face not in once:
            once.append(face)
    kept = [
        once if n == at[0] else faces
        for n, faces in enumerate(every)
        if n not in at[1:]
    ]
    return with_list(document, "flush", kept)


def add_flush(document: Document, faces: Sequence[str]) -> Document:
    """Return the document with one more list of flush faces."""
    _check_axis(document, faces)
    return added(document, "flush", list(faces))


def add_to_flush(document: Document, index: int, face: str) -> Document:
    """Return the document with one more face in a flush list."""
    faces = _list_at(document, "flush", index)
    if face in faces:
        raise EngineError("{face} is in this list already", face=brief(face))
    _check_axis(document, [face], beside=faces)
    return replaced(document, "flush", index, [*faces, face])


def remove_from_flush(document: Document, index: int, face: str) -> Document:
    """Return the document with one face less in a flush list; of two the list goes."""
    faces = _list_at(document, "flush", index)
    if face not in faces:
        raise EngineError("{face} is not in this list", face=brief(face))
    rest = [other for other in faces if other != face]
    if len(rest) < 2:
        return removed(document, "flush", index)
    return replaced(document, "flush", index, rest)


def remove_flush(document: Document, index: int) -> Document:
    """Return the document without a flush list."""
    return removed(document, "flush", index)


def add_even(document: Document, pairs: Sequence[Sequence[str]]) -> Document:
    """Return the document with one more list of even spaces."""
    for pair in pairs:
        _check_pair(document, pair)
    return added(document, "even", [list(pair) for pair in pairs])


def add_to_even(document: Document, index: int, start: str, end: str) -> Document:
    """Return the document with one more space in an even list."""
    pairs = _list_at(document, "even", index)
    _check_pair(document, (start, end))
    return replaced(document, "even", index, [*pairs, [start, end]])


def remove_from_even(document: Document, index: int, n: int) -> Document:
    """Return the document with space `n` out of an even list; of two the list goes."""
    pairs = _list_at(document, "even", index)
    if not 0 <= n < len(pairs):
        raise EngineError("there is no space number {number}", number=n + 1)
    rest = [*pairs[:n], *pairs[n + 1 :]]
    if len(rest) < 2:
        return removed(document, "even", index)
    return replaced(document, "even", index, rest)


def remove_even(document: Document, index: int) -> Document:
    """Return the document without an even list."""
    return removed(document, "even", index)


def _list_at(document: Document, list_name: Any, index: int) -> list[Any]:
    value = entry_at(document, list_name, index)
    return value if isinstance(value, list) else []


def _check_pair(document: Document, pair: Sequence[str]) -> None:
    if len(pair) != 2 or pair[0] == pair[1]:
        raise EngineError("a space lies between two faces")
    _check_axis(document, pair)


def _check_axis(
    document: Document, faces: Sequence[str], *, beside: Sequence[Any] = ()
) -> None:
    """Refuse faces that there aren't, or that don't lie across one axis."""
    axes = {FACES[known_face(document, face)[1]][0] for face in faces}
    for face in beside:
        axes |= {
            axis for name, (axis, _) in FACES.items() if name == face_parts(face)[1]
        }
    if len(axes) > 1:
        raise EngineError(
            "the faces must all lie across one axis (read: {faces})",
            faces=", ".join(map(str, [*beside, *faces])),
        )
