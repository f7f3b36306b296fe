"""Add, change and remove the steps of a document."""

from __future__ import annotations

from typing import Any

from projects.engine.draft.document import (
    Document,
    added,
    entries,
    find,
    known_fields,
    new_key,
    put,
    removed,
    replaced,
)
from projects.engine.draft.text import FIELDS

STEP_FIELDS = tuple(name for name in FIELDS["steps"] if name != "key")


def add_step(
    document: Document, *, title: str, stage: str, at: int | None = None, **fields: Any
) -> Document:
    """Return the document with one more step, last or at an index.

    `fields` are those of a plan file's step; its key is made from the title.
    """
    key = new_key(document, "steps", title)
    made = added(document, "steps", {"key": key}, at=at)
    return change_step(made, key, title=title, stage=stage, **fields)


def change_step(document: Document, key: str, **fields: Any) -> Document:
    """Return the document with fields of a step changed."""
    index = find(document, "steps", key)
    known_fields(fields, STEP_FIELDS, "steps")
    entry = put(entries(document, "steps")[index], fields)
    return replaced(document, "steps", index, entry)


def remove_step(document: Document, key: str) -> Document:
    """Return the document without a step."""
    return removed(document, "steps", find(document, "steps", key))
