"""A plan document: a plan file's JSON as plain dicts, never changed in place.

A document may be incomplete or wrong; what can't be understood is left as it is.
Every function that changes one returns a new document that shares what stayed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from typing import Any, Literal

from projects.engine.errors import EngineError
from projects.engine.plan.fields import MAX_KEY, brief, read_key
from projects.engine.plan.reader import FORMAT, VERSION
from projects.engine.plan.records import FACES, FaceName
from projects.engine.units.length import UnitSystem

Document = dict[str, Any]
Entry = dict[str, Any]
ListName = Literal["stock", "parts", "joints", "distances", "flush", "even", "steps"]
LISTS: tuple[ListName, ...] = (
    "stock",
    "parts",
    "joints",
    "distances",
    "flush",
    "even",
    "steps",
)
KEYED: tuple[ListName, ...] = ("stock", "parts", "joints", "distances", "steps")
ONE: dict[ListName, str] = {
    "stock": "stock",
    "parts": "part",
    "joints": "joint",
    "distances": "distance",
    "flush": "flush list",
    "even": "even list",
    "steps": "step",
}
"""What one entry of a list is called."""


def blank(title: str, *, units: UnitSystem = "in") -> Document:
    """Return a document with a title and nothing else."""
    return {
        "format": FORMAT,
        "version": int(VERSION),
        "title": title,
        "units": units,
        "tape": 16,
        **{name: [] for name in LISTS},
    }


def units_of(document: Document) -> UnitSystem:
    """Return the units of bare numbers: inches unless the document says mm."""
    return "mm" if document.get("units") == "mm" else "in"


def entries(document: Document, list_name: ListName) -> list[Any]:
    """Return the entries of a list, none where it can't be read; not a copy."""
    value = document.get(list_name)
    return value if isinstance(value, list) else []


def keyed(document: Document, list_name: ListName) -> dict[str, tuple[int, Entry]]:
    """Return index and entry by key; of two with one key the first."""
    found: dict[str, tuple[int, Entry]] = {}
    for n, entry in enumerate(entries(document, list_name)):
        if isinstance(entry, dict) and isinstance(entry.get("key"), str):
            found.setdefault(entry["key"], (n, entry))
    return found


def find(document: Document, list_name: ListName, key: str) -> int:
    """Return the index of an entry.

    Raises `EngineError` where there is none.
    """
    # a key from a damaged document may be a list or an object
    at = keyed(document, list_name).get(key) if isinstance(key, str) else None
    if at is None:
        raise EngineError(
            "there is no {what} {key}", what=ONE[list_name], key=brief(key)
        )
    return at[0]


def entry_at(document: Document, list_name: ListName, index: int) -> Any:
    """Return the entry of a list at an index.

    Raises `EngineError` where there is none.
    """
    every = entries(document, list_name)
    if not 0 <= index < len(every):
        raise EngineError(
            "there is no {what} number {number}",
            what=ONE[list_name],
            number=index + 1,
        )
    return every[index]


def name_of(document: Document, list_name: ListName, key: str) -> str:
    """Return what an entry is called; its key where it has no name."""
    _, entry = keyed(document, list_name).get(key, (0, {}))
    name = entry.get("title" if list_name == "steps" else "name")
    return name if isinstance(name, str) and name.strip() else key


def with_list(
    document: Document, list_name: ListName, every: list[Any] | tuple[Any, ...]
) -> Document:
    """Return the document with another list."""
    return {**document, list_name: list(every)}


def added(
    document: Document, list_name: ListName, entry: Any, *, at: int | None = None
) -> Document:
    """Return the document with one more entry, last or at an index."""
    every = list(entries(document, list_name))
    every.insert(len(every) if at is None else at, entry)
    return with_list(document, list_name, every)


def replaced(
    document: Document, list_name: ListName, index: int, entry: Any
) -> Document:
    """Return the document with another entry at an index."""
    every = list(entries(document, list_name))
    every[index] = entry
    return with_list(document, list_name, every)


def removed(document: Document, list_name: ListName, index: int) -> Document:
    """Return the document without the entry at an index.

    Raises `EngineError` where there is none.
    """
    entry_at(document, list_name, index)
    every = list(entries(document, list_name))
    del every[index]
    return with_list(document, list_name, every)


def move(document: Document, list_name: ListName, index: int, *, to: int) -> Document:
    """Return the document with an entry moved; `to` is its index afterwards.

    Raises `EngineError` where there is no such entry or place.
    """
    entry = entry_at(document, list_name, index)
    entry_at(document, list_name, to)
    return added(removed(document, list_name, index), list_name, entry, at=to)


def put(entry: Entry, fields: Mapping[str, Any]) -> Entry:
    """Return an entry with fields set; None, "" and [] take a field away."""
    made = {**entry, **fields}
    return {
        name: value
        for name, value in made.items()
        if name not in fields or not (value is None or value in ("", [], ()))
    }


def known_fields(
    fields: Mapping[str, Any], known: tuple[str, ...], list_name: ListName
) -> None:
    """Refuse a field that entries of a list don't have."""
    for name in fields:
        if name not in known:
            raise EngineError(
                "a {what} has no field {name}", what=ONE[list_name], name=brief(name)
            )


def whole(value: Any) -> Any:
    """Return a whole number typed as text as one; anything else as it is."""
    if isinstance(value, str) and re.fullmatch(r"[0-9]{1,6}", value.strip(), re.ASCII):
        return int(value)
    return value


def new_key(document: Document, list_name: ListName, name: str) -> str:
    """Return a key made from a name that no entry of the list has.

    >>> new_key(blank("Bench"), "parts", "Left side")
    'left_side'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    key = re.sub(r"[^a-z0-9]+", "_", plain.lower()).strip("_")
    if not key[:1].isalpha():
        # key[:1] is "" for a name in a script that has no ASCII letters
        key = f"{ONE[list_name].split()[0]}_{key}".strip("_")
    key = key[:MAX_KEY].strip("_")
    taken = keyed(document, list_name)
    unique, n = key, 1
    while unique in taken:
        n += 1
        unique = f"{key[: MAX_KEY - len(str(n)) - 1]}_{n}"
    return unique


def free_key(document: Document, list_name: ListName, key: str) -> str:
    """Return `key` where it is one and no entry has it, or raise `EngineError`."""
    read_key(key, f"{ONE[list_name]} key")
    if key in keyed(document, list_name):
        raise EngineError("{key} is already used in {name}", key=key, name=list_name)
    return key


def face_parts(face: Any) -> tuple[str, str]:
    """Return the part and the name of a face; ("", "") for what is none."""
    if not isinstance(face, str) or face.count(".") != 1:
        return "", ""
    part, name = face.split(".")
    return part, name


def known_face(document: Document, face: Any) -> tuple[str, FaceName]:
    """Return part key and name of a face of the document.

    Raises `EngineError` where there is no such face.
    """
    part, name = face_parts(face)
    if part in keyed(document, "parts"):
        for known in FACES:
            if name == known:
                return part, known
    raise EngineError("there is no face {face}", face=brief(face))


def face_words(document: Document, face: str) -> str:
    """Return a face in words, such as `Left side, right face`."""
    part, name = face_parts(face)
    return f"{name_of(document, 'parts', part)}, {name} face" if part else brief(face)
