"""Change a document's title, tape, units and stock."""

from __future__ import annotations

from typing import Any

from projects.engine.draft.document import (
    Document,
    Entry,
    added,
    entries,
    find,
    known_fields,
    name_of,
    new_key,
    put,
    removed,
    replaced,
    units_of,
    whole,
)
from projects.engine.draft.references import in_steps
from projects.engine.errors import EngineError
from projects.engine.units import read_length
from projects.engine.units.length import UnitSystem

STOCK_FIELDS = ("name", "kind", "species", "thickness")


def set_title(document: Document, title: str) -> Document:
    """Return the document with another title."""
    return put(document, {"title": title})


def set_tape(document: Document, tape: Any) -> Document:
    """Return the document for a tape with `tape` marks an inch [-]."""
    return put(document, {"tape": whole(tape)})


def set_units(document: Document, units: UnitSystem) -> Document:
    """Return the document with other units; every length still means the same.

    A bare number gets the unit it was in; what can't be read stays as it is.
    Raises `EngineError` for units other than in and mm.
    """
    if units not in ("in", "mm"):
        raise EngineError("units are in or mm (read: {read})", read=repr(units))
    old = units_of(document)
    if units == old:
        return {**document, "units": units}

    def kept(value: Any) -> Any:
        return _kept(value, old, units)

    made = {**document, "units": units}
    for name in ("stock", "joints", "distances"):
        if isinstance(document.get(name), list):
            made[name] = [_lengths_kept(entry, kept) for entry in document[name]]
    return made


def _kept(value: Any, old: UnitSystem, new: UnitSystem) -> Any:
    """Return a length so that it means in `new` what it meant in `old`."""
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return value
    text = value.strip() if isinstance(value, str) else f"{value}"
    try:
        meant = read_length(text, unit=old)
    except EngineError:
        return value
    try:
        if isinstance(value, str) and read_length(text, unit=new) == meant:
            return value
    except EngineError:
        # too long in the new unit, so it needs the old one
        pass
    return f"{text} {old}"


def _lengths_kept(entry: Any, kept: Any) -> Any:
    """Return an entry with `kept` called on each length in it; shares are none."""
    if not isinstance(entry, dict):
        return entry
    made: Entry = {}
    for name, value in entry.items():
        if name in ("thickness", "depth", "clearance", "value", "round_over"):
            made[name] = kept(value)
        elif name == "stops" and isinstance(value, list):
            made[name] = [_fields_kept(stop, ("by",), kept) for stop in value]
        elif name == "tenon":
            made[name] = _fields_kept(value, ("thickness", "edge_shoulder"), kept)
        elif name == "dowels":
            made[name] = _fields_kept(value, ("diameter", "length"), kept)
        else:
            made[name] = value
    return made


def _fields_kept(value: Any, names: tuple[str, ...], kept: Any) -> Any:
    if not isinstance(value, dict):
        return value
    return {k: kept(v) if k in names else v for k, v in value.items()}


def add_stock(
    document: Document,
    *,
    name: str,
    kind: str = "solid",
    thickness: Any = None,
    species: str | None = None,
) -> Document:
    """Return the document with one more stock, its key made from the name."""
    key = new_key(document, "stock", name)
    fields = {"name": name, "kind": kind, "species": species, "thickness": thickness}
    return added(document, "stock", put({"key": key}, fields))


def change_stock(document: Document, key: str, **fields: Any) -> Document:
    """Return the document with fields of a stock changed."""
    index = find(document, "stock", key)
    known_fields(fields, STOCK_FIELDS, "stock")
    entry = put(entries(document, "stock")[index], fields)
    return replaced(document, "stock", index, entry)


def remove_stock(document: Document, key: str) -> Document:
    """Return the document without a stock.

    Raises `EngineError` while parts are made of it, naming them.
    """
    index = find(document, "stock", key)
    users = [
        str(part.get("name", part.get("key")))
        for part in entries(document, "parts")
        if isinstance(part, dict) and part.get("stock") == key
    ]
    if users:
        raise EngineError(
            "{stock} is still used by: {parts}",
            stock=name_of(document, "stock", key),
            parts=", ".join(users),
        )
    return in_steps(removed(document, "stock", index), "stock", key, None)
