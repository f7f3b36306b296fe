"""Put two people's changes to one document together, and tell where they clash."""

from __future__ import annotations

import json
from typing import Any

from projects.engine.draft.differences import (
    FIXED,
    by_identity,
    differences,
    head_fields,
    items,
    paired,
    words,
)
from projects.engine.draft.document import (
    KEYED,
    LISTS,
    ONE,
    Document,
    ListName,
    added,
    entries,
    find,
    keyed,
    name_of,
    new_key,
    put,
    removed,
    replaced,
    with_list,
)
from projects.engine.draft.records import Conflict, Merged, Ref
from projects.engine.draft.references import rekey


def merge(base: Document, mine: Document, theirs: Document) -> Merged:
    """Return a document with the changes of both since `base`.

    Where both changed one field in two ways it holds theirs, and the conflict holds
    mine. A removed entry that the other changed stays. Two entries that both added
    under one key are both kept, mine under a new key.
    """
    mine_too = _apart(base, mine, theirs)
    merging = _Merging(base, mine_too, theirs)
    document: Document = {k: theirs[k] for k in FIXED if k in theirs}
    document |= merging.head()
    for name in LISTS:
        if any(isinstance(d.get(name), list) for d in (mine_too, theirs)):
            every = merging.keyed(name) if name in KEYED else merging.listed(name)
            document = with_list(document, name, every)
    return Merged(
        document=document,
        conflicts=tuple(merging.conflicts),
        mine=differences(base, mine),
        theirs=differences(base, theirs),
    )


def take_mine(document: Document, conflict: Conflict) -> Document:
    """Return a merged document with mine in place of theirs.

    Raises `EngineError` where the entry is no longer there.
    """
    ref, value = conflict.at[0], conflict.mine
    if ref.list_name == "head":
        return put(document, {ref.field: value})
    name: ListName = next(known for known in LISTS if known == ref.list_name)
    if name not in KEYED:
        index = next(
            (
                n
                for n, faces in enumerate(entries(document, name))
                if faces == conflict.theirs
            ),
            None,
        )
        if value is None:
            # mine took it out, and theirs stands there changed
            return document if index is None else removed(document, name, index)
        return document
    if conflict.field:
        index = find(document, name, ref.key)
        entry = put(entries(document, name)[index], {conflict.field: value})
        return replaced(document, name, index, entry)
    if value is None:
        return removed(document, name, find(document, name, ref.key))
    if ref.key in keyed(document, name):
        return replaced(document, name, find(document, name, ref.key), value)
    return added(document, name, value)


def _apart(base: Document, mine: Document, theirs: Document) -> Document:
    """Return mine with a new key for what both added, differently, under one key."""
    made = mine
    for name in KEYED:
        old, other = keyed(base, name), keyed(theirs, name)
        for key, (_, entry) in keyed(mine, name).items():
            if key in other and key not in old and other[key][1] != entry:
                both: Document = {name: [*entries(made, name), *entries(theirs, name)]}
                made = rekey(made, name, key, new_key(both, name, key))
    return made


class _Merging:
    """Merge one document part by part, noting conflicts."""

    def __init__(self, base: Document, mine: Document, theirs: Document) -> None:
        self.base, self.mine, self.theirs = base, mine, theirs
        self.conflicts: list[Conflict] = []

    def head(self) -> dict[str, Any]:
        """Return the merged fields that are no lists."""
        base, mine, theirs = map(head_fields, (self.base, self.mine, self.theirs))
        return self._fields(base, mine, theirs, Ref(list_name="head"), "")

    def keyed(self, name: ListName) -> list[Any]:
        """Return a merged list of entries with keys."""
        same, value = _settled(
            *(entries(d, name) for d in (self.base, self.mine, self.theirs))
        )
        if same:
            return list(value)
        base, mine, theirs = (
            by_identity(d, name) for d in (self.base, self.mine, self.theirs)
        )
        made = []
        for identity in _order([*base], [*mine], [*theirs]):
            b, m, t = (d.get(identity, (0, None))[1] for d in (base, mine, theirs))
            at = (theirs.get(identity) or mine.get(identity) or (0, None))[0]
            ref = Ref(list_name=name, index=at, key=identity)
            entry = self._entry(b, m, t, ref)
            if entry is not None:
                made.append(entry)
        return made

    def _entry(self, base: Any, mine: Any, theirs: Any, ref: Ref) -> Any:
        same, value = _settled(base, mine, theirs)
        if same:
            return value
        if all(isinstance(entry, dict) for entry in (base, mine, theirs)):
            name = self._name(ref)
            return self._fields(base, mine, theirs, ref, name)
        self._clash(ref, self._name(ref), "", base, mine, theirs)
        return mine if theirs is None else theirs

    def _name(self, ref: Ref) -> str:
        name: ListName = next(known for known in LISTS if known == ref.list_name)
        for document in (self.theirs, self.mine):
            if ref.key in keyed(document, name):
                return f"{ONE[name]} {name_of(document, name, ref.key)}"
        return ONE[name]

    def _fields(
        self,
        base: dict[str, Any],
        mine: dict[str, Any],
        theirs: dict[str, Any],
        ref: Ref,
        name: str,
    ) -> dict[str, Any]:
        made = {}
        for field in dict.fromkeys((*theirs, *mine, *base)):
            three = [entry.get(field) for entry in (base, mine, theirs)]
            same, value = _settled(*three)
            if not same:
                value = three[2]
                self._clash(ref, name or field, field, *three)
            if value is not None:
                made[field] = value
        return made

    def _clash(
        self, ref: Ref, name: str, field: str, base: Any, mine: Any, theirs: Any
    ) -> None:
        message = "{name}: you changed it to {mine}, and it was changed to {theirs}"
        if field and field != name:
            message = (
                "{name}: you changed its {field} to {mine}, and it was changed to "
                "{theirs}"
            )
        elif not field and mine is None:
            message = "{name}: you removed it, and it was changed"
        elif not field and theirs is None:
            message = "{name}: you changed it, and it was removed"
        self.conflicts.append(
            Conflict(
                message=message,
                values={
                    "name": name,
                    "field": field.replace("_", " "),
                    "mine": words(self.mine, mine),
                    "theirs": words(self.theirs, theirs),
                },
                at=(
                    Ref(
                        list_name=ref.list_name,
                        index=ref.index,
                        key=ref.key,
                        field=field,
                    ),
                ),
                field=field,
                base=base,
                mine=mine,
                theirs=theirs,
            )
        )

    def listed(self, name: ListName) -> list[Any]:
        """Return merged lists of faces or of spaces."""
        base, mine, theirs = (
            entries(d, name) for d in (self.base, self.mine, self.theirs)
        )
        same, value = _settled(base, mine, theirs)
        if same:
            return list(value)
        (my_pairs, my_new), (their_pairs, their_new) = (
            paired(base, other) for other in (mine, theirs)
        )
        made = []
        for n, before in enumerate(base):
            m, t = my_pairs[n][1], their_pairs[n][1]
            m_list = None if m is None else mine[m]
            t_list = None if t is None else theirs[t]
            same, value = _settled(before, m_list, t_list)
            if not same and m_list is not None and t_list is not None:
                value = _both(before, m_list, t_list)
            elif not same:
                value = m_list if t_list is None else t_list
                ref = Ref(list_name=name, index=n)
                label = f"{ONE[name]} {n + 1}"
                self._clash(ref, label, "", before, m_list, t_list)
            if value:
                made.append(value)
        made += [theirs[k] for k in their_new]
        known = [items(entry) for entry in made]
        return made + [mine[k] for k in my_new if items(mine[k]) not in known]


def _settled(base: Any, mine: Any, theirs: Any) -> tuple[bool, Any]:
    """Return whether at most one side changed something, and what it is then."""
    if mine in (base, theirs):
        return True, theirs
    return theirs == base, mine


def _both(base: Any, mine: Any, theirs: Any) -> list[Any]:
    """Return a list with what either added and without what either took out."""
    old, my, their = items(base), items(mine), items(theirs)
    made = {}
    for item in (*base, *theirs, *mine) if isinstance(base, list) else (*theirs, *mine):
        text = json.dumps(item, sort_keys=True)
        if text in old and not (text in my and text in their):
            continue
        made[text] = item
    return list(made.values())


def _order(base: list[str], mine: list[str], theirs: list[str]) -> list[str]:
    """Return every entry in the order of theirs, or of mine where only mine moved."""
    first, second = theirs, mine
    if _moved(base, mine) and not _moved(base, theirs):
        first, second = mine, theirs
    made = list(first)
    for place, identity in enumerate(second):
        if identity not in made:
            before = [i for i in second[:place] if i in made]
            if not any(i in made for i in second[place:]):
                made.append(identity)
            else:
                made.insert(made.index(before[-1]) + 1 if before else 0, identity)
    return made + [identity for identity in base if identity not in made]


def _moved(base: list[str], other: list[str]) -> bool:
    """Say whether what stands in both stands in another order."""
    return [i for i in base if i in other] != [i for i in other if i in base]
