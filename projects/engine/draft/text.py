"""Write a document as a plan file, and read a plan file as a document."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from typing import Any

from projects.engine.draft.document import LISTS, Document
from projects.engine.plan.json_text import JsonNumber, parse
from projects.engine.plan.reader import read_plan

FIELDS = {
    "stock": ("key", "name", "kind", "species", "thickness"),
    "parts": (
        "key", "name", "stock", "length", "width", "thickness", "pair", "count",
        "round_over",
    ),
    "joints": (
        "key", "name", "kind", "guest", "host", "depth", "clearance",
        "stops", "tenon", "dowels",
    ),
    "distances": ("key", "name", "from", "to", "value", "held", "measure", "fits"),
    "steps": (
        "key", "title", "stage", "machine", "other_ways", "parts", "joints",
        "measured_first", "measures", "cautions", "note", "picture",
    ),
}  # fmt: skip
"""The order in which the fields of an entry are written; others come after."""

INSIDE = (
    "of_thickness", "at", "by", "thickness", "edge_shoulder", "diameter", "length",
    "count", "machine", "note",
)  # fmt: skip
"""The same for the fields of an object inside an entry."""

HEAD = (("format", "version"), ("title", "units", "tape"))


def read_document(data: str | bytes) -> Document:
    """Return the plan file `data` as a document, every number exactly as it stands.

    Raises `PlanError` or `ProblemsError` for what `read_plan` doesn't accept.
    """
    read_plan(data)
    made = _plain(parse(data, what="plan"))
    return dict(made)


def _plain(value: Any) -> Any:
    """Return a parsed value without the reader's own types; bools stay."""
    if isinstance(value, JsonNumber):
        text = str.__str__(value)
        if re.fullmatch(r"[0-9]{1,6}", text):
            return int(text)
        # a float would round it; read as a length a text says the same
        return format(Decimal(text), "f") if "e" in text.lower() else text
    if isinstance(value, dict):
        return {name: _plain(item) for name, item in value.items()}
    if isinstance(value, list):
        return [_plain(item) for item in value]
    return value


def plan_text(document: Document) -> str:
    """Return a document as the text of a plan file, one entry a line.

    The same document always gives the same text, whatever order its fields are in.
    """
    blocks = []
    for names in HEAD:
        line = ", ".join(_field(n, document[n]) for n in names if n in document)
        blocks += [f"  {line}"] if line else []
    known = {name for names in HEAD for name in names} | set(LISTS)
    rest = sorted(name for name in document if name not in known)
    for name in (*LISTS, *rest):
        if name in document:
            blocks.append(f"  {_json(name)}: {_block(name, document[name])}")
    return "{\n" + ",\n".join(blocks) + "\n}\n"


def _field(name: str, value: Any) -> str:
    return f"{_json(name)}: {_json(value)}"


def _block(name: str, value: Any) -> str:
    if not isinstance(value, list) or not value:
        return _json(_ordered(value, INSIDE))
    known = FIELDS.get(name, INSIDE)
    lines = ",\n".join(f"    {_json(_ordered(entry, known))}" for entry in value)
    return f"[\n{lines}\n  ]"


def _ordered(value: Any, known: tuple[str, ...]) -> Any:
    """Return a value with the fields of its objects in order, whatever theirs was."""
    if isinstance(value, list):
        return [_ordered(item, known) for item in value]
    if not isinstance(value, dict):
        return value
    rest = sorted(name for name in value if name not in known)
    names = [name for name in (*known, *rest) if name in value]
    return {name: _ordered(value[name], INSIDE) for name in names}


def _json(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False)
    # half of a surrogate pair can't be written as UTF-8, only escaped
    if any("\ud800" <= sign <= "\udfff" for sign in text):
        return json.dumps(value)
    return text
