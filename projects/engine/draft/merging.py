"""Put two people's changes to one document together, and tell where they clash."""

from __future__ import annotations

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
from projects.engine.draft.rescue import rescued, same_but_pair, take_out
from projects.engine.draft.settling import both, is_texts, order, settled


def merge(base: Document, mine: Document, theirs: Document) -> Merged:
    """Return a document with the changes of both since `base`.

    Where both changed one field in two ways it holds theirs, and the conflict holds
    mine. A removed entry that the other worked on stays, with all that was tied to
    it. Two entries that both added under one key are both kept, mine under a new key.
    """
    mine_too = _apart(base, mine, theirs)
    mine_whole, removed_by_me = _whole(base, theirs, mine_too)
    theirs_whole, removed_by_them = _whole(base, mine_too, theirs)
    merging = _Merging(base, mine_whole, theirs_whole)
    for ref in removed_by_me:
        merging.stays(ref, mine=None, theirs=_entry_of(theirs, ref))
    for ref in removed_by_them:
        merging.stays(ref, mine=_entry_of(mine_too, ref), theirs=None)
    document = merging.document()
    return Merged(
        document=document,
        conflicts=tuple(merging.conflicts),
        mine=differences(base, mine),
        theirs=differences(base, theirs),
    )


def _whole(
    base: Document, worked: Document, taken: Document
) -> tuple[Document, list[Ref]]:
    """Return `taken` with what `worked` needs of that it removed, and what that is."""
    found = rescued(base, worked, taken)
    if found is None:
        return taken, []
    refs = [
        Ref(list_name=name, index=find(base, name, key), key=key)
        for name, keys in found.entries.items()
        for key in keys
    ]
    return _Merging(found.without, found.whole, taken).document(), refs


def _entry_of(document: Document, ref: Ref) -> Any:
    name: ListName = next(known for known in LISTS if known == ref.list_name)
    return keyed(document, name)[ref.key][1]


def take_mine(document: Document, conflict: Conflict) -> Document:
    """Return a merged document with mine in place of theirs.

    Where they removed what I worked on, mine is in already. Raises `EngineError`
    where the entry is no longer there.
    """
    ref, value = conflict.at[0], conflict.mine
    if conflict.stays and value is not None:
        return document
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
    without = take_out(document, name, ref.key)
    return without or removed(document, name, find(document, name, ref.key))


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

    def document(self) -> Document:
        """Return the merged document."""
        made: Document = {k: self.theirs[k] for k in FIXED if k in self.theirs}
        made |= self.head()
        for name in LISTS:
            if any(isinstance(d.get(name), list) for d in (self.mine, self.theirs)):
                every = self.keyed(name) if name in KEYED else self.listed(name)
                made = with_list(made, name, every)
        return made

    def stays(self, ref: Ref, *, mine: Any, theirs: Any) -> None:
        """Note that one removed an entry that the other worked on, and it stays."""
        base = _entry_of(self.base, ref)
        first = self.mine if theirs is None else self.theirs
        self._clash(ref, self._name(ref, first), "", base, mine, theirs)

    def head(self) -> dict[str, Any]:
        """Return the merged fields that are no lists."""
        base, mine, theirs = map(head_fields, (self.base, self.mine, self.theirs))
        return self._fields(base, mine, theirs, Ref(list_name="head"), "")

    def keyed(self, name: ListName) -> list[Any]:
        """Return a merged list of entries with keys."""
        same, value = settled(
            *(entries(d, name) for d in (self.base, self.mine, self.theirs))
        )
        if same:
            return list(value)
        base, mine, theirs = (
            by_identity(d, name) for d in (self.base, self.mine, self.theirs)
        )
        made = []
        for identity in order([*base], [*mine], [*theirs]):
            b, m, t = (d.get(identity, (0, None))[1] for d in (base, mine, theirs))
            at = (theirs.get(identity) or mine.get(identity) or (0, None))[0]
            ref = Ref(list_name=name, index=at, key=identity)
            entry = self._entry(b, m, t, ref)
            if entry is not None:
                made.append(entry)
        return made

    def _entry(self, base: Any, mine: Any, theirs: Any, ref: Ref) -> Any:
        same, value = settled(base, mine, theirs)
        if same:
            return value
        if all(isinstance(entry, dict) for entry in (base, mine, theirs)):
            name = self._name(ref)
            return self._fields(base, mine, theirs, ref, name)
        if None in (mine, theirs) and same_but_pair(base, mine or theirs):
            return None
        self._clash(ref, self._name(ref), "", base, mine, theirs)
        return mine if theirs is None else theirs

    def _name(self, ref: Ref, first: Document | None = None) -> str:
        name: ListName = next(known for known in LISTS if known == ref.list_name)
        for document in (first or self.theirs, self.theirs, self.mine):
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
            same, value = settled(*three)
            if not same and all(is_texts(value) for value in three):
                # each ticks or takes away what they please
                value = both(*(value or [] for value in three)) or None
            elif not same:
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
            message = "{name}: you removed it, and it was changed; it stays"
        elif not field and theirs is None:
            message = "{name}: you worked on it, and it was removed; it stays"
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
        same, value = settled(base, mine, theirs)
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
            same, value = settled(before, m_list, t_list)
            if not same and m_list is not None and t_list is not None:
                value = both(before, m_list, t_list)
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
