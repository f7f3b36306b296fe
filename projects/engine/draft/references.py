"""What names what in a document, so that a new key is followed everywhere."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from projects.engine.draft.document import (
    Document,
    ListName,
    entries,
    face_parts,
    find,
    free_key,
    replaced,
    with_list,
)
from projects.engine.plan.steps import STOCK


def map_faces(document: Document, change: Callable[[Any], Any]) -> Document:
    """Return the document with every face it names replaced by `change(face)`."""

    def in_fields(entry: Any, names: tuple[str, ...]) -> Any:
        if not isinstance(entry, dict):
            return entry
        return {k: change(v) if k in names else v for k, v in entry.items()}

    def in_list(value: Any) -> Any:
        if isinstance(value, list):
            return [in_list(item) for item in value]
        return change(value)

    made = dict(document)
    for name, fields in (("joints", ("guest", "host")), ("distances", ("from", "to"))):
        if isinstance(document.get(name), list):
            made[name] = [in_fields(entry, fields) for entry in document[name]]
    for name in ("flush", "even"):
        if isinstance(document.get(name), list):
            made[name] = in_list(document[name])
    return made


def rekey(document: Document, list_name: ListName, key: str, new: str) -> Document:
    """Return the document with an entry's key changed, and all that names it.

    Raises `EngineError` where there is no such entry, or `new` is no key or taken.
    """
    index = find(document, list_name, key)
    if new == key:
        return document
    free_key(document, list_name, new)
    entry = {**entries(document, list_name)[index], "key": new}
    made = replaced(document, list_name, index, entry)
    if list_name == "stock":
        made = _in_field(made, "parts", "stock", key, new)
    if list_name == "parts":

        def change(face: Any) -> Any:
            part, name = face_parts(face)
            return f"{new}.{name}" if part == key else face

        made = _in_field(map_faces(made, change), "parts", "pair", key, new)
        made = _in_field(made, "distances", "fits", key, new)
    return in_steps(made, list_name, key, new)


def in_steps(
    document: Document, list_name: ListName, key: str, new: str | None
) -> Document:
    """Return the document with its steps naming `new`, or with None nothing."""
    fields = {
        "parts": ("parts",),
        "joints": ("joints",),
        "stock": ("measured_first", "measures"),
        "distances": ("measured_first", "measures"),
    }.get(list_name, ())
    sign = STOCK if list_name == "stock" else ""
    renamed = None if new is None else sign + new
    made = document
    for name in fields:
        made = _in_field(made, "steps", name, sign + key, renamed)
    return made


def _in_field(
    document: Document, list_name: ListName, field: str, old: str, new: str | None
) -> Document:
    """Return the document with `old` in a field, or in a list there, replaced."""
    if not entries(document, list_name):
        return document
    every = []
    for entry in entries(document, list_name):
        value = entry.get(field) if isinstance(entry, dict) else None
        made = entry
        if isinstance(value, list) and old in value:
            rest = [new if item == old else item for item in value]
            kept = [item for item in rest if item is not None]
            made = {**entry, field: kept}
            if not kept:
                del made[field]
        elif value == old:
            made = {**entry, field: new}
        every.append(made)
    return with_list(document, list_name, every)
