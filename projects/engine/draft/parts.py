"""Add, change, rename, duplicate and remove the parts of a document."""

from __future__ import annotations

from typing import Any

from projects.engine.draft.document import (
    Document,
    Entry,
    added,
    entries,
    find,
    keyed,
    known_fields,
    new_key,
    put,
    replaced,
    whole,
)
from projects.engine.draft.references import rekey
from projects.engine.errors import EngineError
from projects.engine.plan.fields import brief
from projects.engine.plan.records import AXES, DIMENSIONS

PART_FIELDS = ("name", "stock", *DIMENSIONS, "count", "round_over")
LYING_FLAT = {"length": "x", "width": "y", "thickness": "z"}
"""How a part lies where nothing is said: along the piece, flat like a shelf."""


def add_part(
    document: Document,
    *,
    name: str,
    stock: str | None = None,
    length: str | None = None,
    width: str | None = None,
    thickness: str | None = None,
    count: Any = None,
) -> Document:
    """Return the document with one more part, its key made from the name.

    Without `stock` it is of the first one. An axis not said is one that is left.
    Raises `EngineError` for a stock or axis that there isn't.
    """
    if not stock:
        stock = next(iter(keyed(document, "stock")), None)
    key = new_key(document, "parts", name)
    said = {"length": length, "width": width, "thickness": thickness}
    said = {name: axis for name, axis in said.items() if axis}
    made = added(document, "parts", {"key": key, "name": name, **LYING_FLAT})
    # all three at once, so that two that trade places need no order
    return change_part(made, key, name=name, stock=stock, count=count, **said)


def change_part(document: Document, key: str, **fields: Any) -> Document:
    """Return the document with fields of a part changed.

    An axis that another dimension lies on is traded with it.
    Raises `EngineError` for a field, stock or axis that there isn't.
    """
    index = find(document, "parts", key)
    known_fields(fields, PART_FIELDS, "parts")
    if fields.get("stock"):
        find(document, "stock", fields["stock"])
    if "count" in fields:
        fields["count"] = whole(fields["count"])
    part = entries(document, "parts")[index]
    axes = _traded(part, {d: fields.pop(d) for d in DIMENSIONS if fields.get(d)})
    return replaced(document, "parts", index, put(put(part, axes), fields))


def _traded(part: Entry, said: dict[str, Any]) -> dict[str, Any]:
    for axis in said.values():
        if axis not in AXES:
            raise EngineError(
                "an axis is one of {axes} (read: {read})",
                axes=", ".join(AXES),
                read=brief(axis),
            )
    axes: dict[str, Any] = {d: part.get(d) for d in DIMENSIONS}
    for dimension, axis in said.items():
        holder = next((d for d in DIMENSIONS if axes[d] == axis), dimension)
        axes[holder], axes[dimension] = axes[dimension], axis
    return axes if said else {}


def rename_part(
    document: Document, key: str, name: str, *, key_too: bool = False
) -> Document:
    """Return the document with a part renamed.

    With `key_too` its key is made anew from the name, and all that names it follows.
    """
    made = change_part(document, key, name=name)
    if not key_too:
        return made
    index = find(document, "parts", key)
    others = {**document, "parts": [*entries(document, "parts")]}
    del others["parts"][index]
    return rekey(made, "parts", key, new_key(others, "parts", name))


def duplicate_part(document: Document, key: str, *, name: str) -> Document:
    """Return the document with a copy of a part right after it, tied to nothing."""
    index = find(document, "parts", key)
    part = entries(document, "parts")[index]
    copy = {
        **part,
        "key": new_key(document, "parts", name),
        "name": name,
    }
    copy.pop("pair", None)
    return added(document, "parts", copy, at=index + 1)


def pair_parts(document: Document, one: str, other: str) -> Document:
    """Return the document with two parts as each other's mirror image.

    Raises `EngineError` where it is one part twice, or one has another partner.
    """
    if one == other:
        raise EngineError("a part can't be its own pair")
    made = document
    for key, partner in ((one, other), (other, one)):
        index = find(document, "parts", key)
        part = entries(made, "parts")[index]
        if part.get("pair") not in (None, partner):
            raise EngineError(
                "{name} already has a partner: {pair}",
                name=part.get("name", key),
                pair=brief(part["pair"]),
            )
        made = replaced(made, "parts", index, {**part, "pair": partner})
    return made


def unpair(document: Document, key: str) -> Document:
    """Return the document with a part and its partner no longer a pair."""
    find(document, "parts", key)
    every = []
    for part in entries(document, "parts"):
        if isinstance(part, dict) and (
            part.get("key") == key or part.get("pair") == key
        ):
            every.append({k: v for k, v in part.items() if k != "pair"})
        else:
            every.append(part)
    return {**document, "parts": every}
