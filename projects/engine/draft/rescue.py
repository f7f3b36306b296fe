"""What one person took out while another worked on it, found and kept whole."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from projects.engine.draft.differences import items, paired
from projects.engine.draft.document import (
    Document,
    Entry,
    ListName,
    entries,
    face_parts,
    keyed,
)
from projects.engine.draft.removal import remove_part
from projects.engine.draft.ties import remove_distance, remove_joint

REMOVES: dict[ListName, Callable[[Document, str], Document]] = {
    "parts": remove_part,
    "joints": remove_joint,
    "distances": remove_distance,
}
"""Lists whose entries others name; a removal takes those names along."""

ENDS: dict[ListName, tuple[str, str]] = {
    "joints": ("guest", "host"),
    "distances": ("from", "to"),
}


@dataclass(frozen=True, kw_only=True)
class Rescued:
    """Hold what was taken out and is kept: `entries` by list, their keys in order.

    `without` is the base less all that was taken out, `whole` the base less what
    stays out: between the two lies what has to come back.
    """

    entries: Mapping[ListName, tuple[str, ...]]
    without: Document
    whole: Document


def rescued(base: Document, worked: Document, taken: Document) -> Rescued | None:
    """Return what `taken` lacks and `worked` changed or tied something to.

    With a part all that was tied to it is kept. None where there is no such thing.
    """
    gone: dict[ListName, list[str]] = {
        name: [
            key
            for key in keyed(base, name)
            if key in keyed(worked, name) and key not in keyed(taken, name)
        ]
        for name in REMOVES
    }
    wanted = _worked_on(base, worked)
    kept = {name: [k for k in gone[name] if k in wanted[name]] for name in REMOVES}
    if not any(kept.values()):
        return None
    every = dict(kept)
    for name, ends in ENDS.items():
        held = keyed(base, name)
        tied = {
            key for key in gone[name] if _parts(held[key][1], ends) & {*every["parts"]}
        }
        every[name] = [key for key in gone[name] if key in kept[name] or key in tied]
    stays_out = {n: [k for k in gone[n] if k not in every[n]] for n in REMOVES}
    whole = _less(base, stays_out)
    # a joint that comes back with its part is not told apart from it
    alone = {
        name: [
            key
            for key in kept[name]
            if name == "parts"
            or not _parts(keyed(base, name)[key][1], ENDS[name]) & {*kept["parts"]}
        ]
        for name in REMOVES
    }
    return Rescued(
        entries={name: tuple(keys) for name, keys in alone.items()},
        without=_less(whole, every),
        whole=whole,
    )


def take_out(document: Document, list_name: ListName, key: str) -> Document | None:
    """Return the document without an entry that others name, and without the names.

    None where entries of the list are named by nothing.
    """
    remove = REMOVES.get(list_name)
    return remove(document, key) if remove else None


def same_but_pair(one: Any, other: Any) -> bool:
    """Say whether two parts differ by nothing but whose mirror image they are.

    Removing its partner changes a part so, and nobody worked on it.
    """
    return bool(_unpaired(one) == _unpaired(other))


def _unpaired(entry: Any) -> Any:
    if not isinstance(entry, dict):
        return entry
    return {name: value for name, value in entry.items() if name != "pair"}


def _worked_on(base: Document, made: Document) -> dict[ListName, set[str]]:
    """Return the keys of parts, joints and distances that somebody worked on."""
    found: dict[ListName, set[str]] = {name: set() for name in REMOVES}
    for name in REMOVES:
        old = keyed(base, name)
        for key, (_n, entry) in keyed(made, name).items():
            before = old[key][1] if key in old else None
            if same_but_pair(before, entry):
                continue
            found[name].add(key)
            if name in ENDS:
                found["parts"] |= _parts(entry, ENDS[name])
    for name in ("flush", "even"):
        found["parts"] |= _faced(entries(base, name), entries(made, name))
    return found


def _faced(old: list[Any], new: list[Any]) -> set[str]:
    """Return the parts of the faces that were put into lists."""
    pairs, added = paired(old, new)
    texts = {text for k in added for text in items(new[k])}
    for n, k in pairs:
        if k is not None:
            texts |= items(new[k]) - items(old[n])
    return {face_parts(face)[0] for text in texts for face in _flat(json.loads(text))}


def _flat(item: Any) -> Iterable[Any]:
    return item if isinstance(item, list) else (item,)


def _parts(entry: Entry, ends: tuple[str, str]) -> set[str]:
    return {face_parts(entry.get(end))[0] for end in ends}


def _less(document: Document, keys: Mapping[ListName, Iterable[str]]) -> Document:
    made = document
    for name, remove in REMOVES.items():
        for key in keys[name]:
            if key in keyed(made, name):
                made = remove(made, key)
    return made
