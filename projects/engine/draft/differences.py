"""What two documents differ in, entry by entry and field by field, in words."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from projects.engine.draft.document import (
    KEYED,
    LISTS,
    ONE,
    Document,
    ListName,
    entries,
    face_words,
    name_of,
)
from projects.engine.draft.records import Change, Ref
from projects.engine.draft.text import FIELDS

Entry = Any
FIXED = ("format", "version")


def differences(old: Document, new: Document) -> tuple[Change, ...]:
    """Return what changed from `old` to `new`, in the order of the document."""
    made = [*_head(old, new)]
    for name in KEYED:
        made += _keyed(old, new, name)
        if name == "distances":
            made += _listed(old, new, "flush")
            made += _listed(old, new, "even")
    return tuple(made)


def by_identity(
    document: Document, list_name: ListName
) -> dict[str, tuple[int, Entry]]:
    """Return index and entry by key; what has none of its own stands for itself."""
    made: dict[str, tuple[int, Entry]] = {}
    for n, entry in enumerate(entries(document, list_name)):
        key = entry.get("key") if isinstance(entry, dict) else None
        identity = key if isinstance(key, str) else json.dumps(entry, sort_keys=True)
        while identity in made:
            # a second entry of one key is a fault, but it must not get lost
            identity += " again"
        made[identity] = (n, entry)
    return made


def head_fields(document: Document) -> dict[str, Any]:
    """Return the fields that are no lists of entries."""
    return {
        name: value
        for name, value in document.items()
        if name not in FIXED and (name not in LISTS or not isinstance(value, list))
    }


def paired(
    old: list[Any], new: list[Any]
) -> tuple[list[tuple[int, int | None]], list[int]]:
    """Return for each list in `old` its index and that of the list it became.

    And the indices of those that are new: what became of a list shares most with it.
    """
    left = dict(enumerate(map(items, new)))
    found: dict[int, int] = {}
    wanted = sorted(
        (
            (-(before == after), -len(before & after), n, k)
            for n, before in enumerate(map(items, old))
            for k, after in left.items()
            if before & after or before == after
        ),
    )
    for _, _, n, k in wanted:
        if n not in found and k in left:
            found[n] = k
            del left[k]
    return [(n, found.get(n)) for n in range(len(old))], sorted(left)


def items(entry: Any) -> set[str]:
    """Return what stands in a list of faces or spaces, each as a text."""
    every = entry if isinstance(entry, list) else [entry]
    return {json.dumps(item, sort_keys=True) for item in every}


def _head(old: Document, new: Document) -> Iterable[Change]:
    before, after = head_fields(old), head_fields(new)
    for name in dict.fromkeys((*before, *after)):
        if before.get(name) != after.get(name):
            ref = Ref(list_name="head", field=name)
            yield _changed(old, new, ref, name, name, before.get(name), after.get(name))


def _changed(
    old: Document,
    new: Document,
    ref: Ref,
    name: str,
    field: str,
    before: Any,
    after: Any,
) -> Change:
    return Change(
        kind="changed",
        message="{name}: changed from {before} to {after}"
        if ref.list_name == "head"
        else "{name}: {field} changed from {before} to {after}",
        values={
            "name": name,
            "field": field.replace("_", " "),
            "before": words(old, before),
            "after": words(new, after),
        },
        at=(ref,),
        field=field,
        before=before,
        after=after,
    )


def words(document: Document, value: Any) -> str:
    """Return a field's value in words.

    >>> words({}, {"of_thickness": "1/2"})
    '1/2 of the thickness'
    """
    if value is None:
        return "nothing"
    if isinstance(value, dict) and set(value) == {"of_thickness"}:
        return f"{words(document, value['of_thickness'])} of the thickness"
    if isinstance(value, dict):
        return ", ".join(f"{k} {words(document, v)}" for k, v in value.items())
    if isinstance(value, list):
        return ", ".join(words(document, item) for item in value) or "nothing"
    if isinstance(value, str):
        part, _, name = value.partition(".")
        is_face = name.isalpha() and part in by_identity(document, "parts")
        return face_words(document, value) if is_face else value
    return json.dumps(value)


def _keyed(old: Document, new: Document, name: ListName) -> Iterable[Change]:
    before, after = by_identity(old, name), by_identity(new, name)
    for identity in dict.fromkeys((*before, *after)):
        if identity not in after:
            n, entry = before[identity]
            yield _whole("removed", old, name, identity, n, before=entry)
        elif identity not in before:
            n, entry = after[identity]
            yield _whole("added", new, name, identity, n, after=entry)
        else:
            n, entry = after[identity]
            yield from _fields(old, new, name, identity, n, before[identity][1], entry)
    common = [identity for identity in before if identity in after]
    if common != [identity for identity in after if identity in before]:
        yield Change(
            kind="moved",
            message="{list}: in another order",
            values={"list": name},
            at=(Ref(list_name=name),),
            before=list(before),
            after=list(after),
        )


def _whole(
    kind: Any,
    document: Document,
    list_name: ListName,
    identity: str,
    n: int,
    *,
    before: Any = None,
    after: Any = None,
) -> Change:
    return Change(
        kind=kind,
        message=f"{{what}} {{name}} {kind}",
        values={
            "what": ONE[list_name],
            "name": name_of(document, list_name, identity),
        },
        at=(Ref(list_name=list_name, index=n, key=identity),),
        before=before,
        after=after,
    )


def _fields(
    old: Document,
    new: Document,
    list_name: ListName,
    identity: str,
    n: int,
    before: Any,
    after: Any,
) -> Iterable[Change]:
    if not isinstance(before, dict) or not isinstance(after, dict):
        return
    name = name_of(new, list_name, identity)
    for field in dict.fromkeys((*FIELDS[list_name], *before, *after)):
        if before.get(field) != after.get(field):
            ref = Ref(list_name=list_name, index=n, key=identity, field=field)
            yield _changed(
                old, new, ref, name, field, before.get(field), after.get(field)
            )


def _listed(old: Document, new: Document, name: ListName) -> Iterable[Change]:
    before, after = entries(old, name), entries(new, name)
    pairs, added = paired(before, after)
    what = ONE[name]
    for n, k in pairs:
        if k is None:
            yield Change(
                kind="removed",
                message="{what} {number} removed: {items}",
                values={
                    "what": what,
                    "number": n + 1,
                    "items": words(old, before[n]),
                },
                at=(Ref(list_name=name, index=n),),
                before=before[n],
            )
        elif before[n] != after[k]:
            yield Change(
                kind="changed",
                message="{what} {number}: changed from {before} to {after}",
                values={
                    "what": what,
                    "number": k + 1,
                    "before": words(old, before[n]),
                    "after": words(new, after[k]),
                },
                at=(Ref(list_name=name, index=k),),
                before=before[n],
                after=after[k],
            )
    for k in added:
        yield Change(
            kind="added",
            message="{what} {number} added: {items}",
            values={"what": what, "number": k + 1, "items": words(new, after[k])},
            at=(Ref(list_name=name, index=k),),
            after=after[k],
        )
