"""What others changed in a draft while somebody wrote, in few words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, cast

from django.utils.translation import gettext as _

from projects.engine.draft import Change, Conflict, Document
from projects.engine.draft.document import (
    LISTS,
    ListName,
    entries,
    face_parts,
    keyed,
    name_of,
)
from projects.engine.draft.records import Merged, Ref
from projects.engine.joints import KINDS
from projects.engine.plan.steps import STAGES
from projects.present import draft_words as w
from projects.present.draft_lines import SECTIONS
from projects.present.draft_steps import machine_words

MOST = 3
"""How many entries of one list are named; the rest is counted."""

LONGEST = 60


@dataclass(frozen=True, kw_only=True)
class ConflictLine:
    """One thing that two people changed; `can_put_mine` where theirs stands."""

    words: str
    place: str
    can_put_mine: bool


@dataclass(frozen=True, kw_only=True)
class Meanwhile:
    """What others changed while somebody wrote, and what of it is in conflict.

    `aside` is the number under which what somebody wrote is kept.
    """

    theirs: tuple[str, ...]
    conflicts: tuple[ConflictLine, ...] = ()
    aside: int | None = None

    @property
    def is_undecided(self) -> bool:
        """Whether something of one's own is not in."""
        return any(line.can_put_mine for line in self.conflicts)


def meanwhile_of(
    merged: Merged, aside: int | None, document: Document, *, is_news: bool = True
) -> Meanwhile:
    """Return what others changed, where the draft is at `document` now.

    Without `is_news` only what is in conflict is told.
    """
    own = {_what(change) for change in merged.mine}
    theirs = [change for change in merged.theirs if _what(change) not in own]
    return Meanwhile(
        theirs=change_lines(theirs, document) if is_news else (),
        conflicts=tuple(_conflict(document, one) for one in merged.conflicts),
        aside=aside if merged.conflicts else None,
    )


def _what(change: Change) -> tuple[str, ...]:
    ref = change.at[0] if change.at else Ref(list_name="")
    return (change.kind, ref.list_name, ref.key, change.field, repr(change.after))


def change_lines(changes: Iterable[Change], document: Document) -> tuple[str, ...]:
    """Return what was changed, entries of one list that are many in one line."""
    found: dict[tuple[str, str], dict[str, list[Change]]] = {}
    for change in changes:
        ref = change.at[0]
        entry = ref.key or str(ref.index)
        kinds = found.setdefault((ref.list_name, change.kind), {})
        kinds.setdefault("" if ref.list_name == "head" else entry, []).append(change)
    lines: list[str] = []
    for (list_name, kind), by_entry in found.items():
        lines += _lines(document, list_name, kind, list(by_entry.values()))
    return tuple(lines)


def _lines(
    document: Document, list_name: str, kind: str, by_entry: Sequence[Sequence[Change]]
) -> list[str]:
    if list_name == "head":
        return [_changed(document, _("Plan"), [one]) for one in by_entry[0]]
    title = next(str(words) for name, words, _add in SECTIONS if name == list_name)
    if kind == "moved":
        return [_("%(list)s: in another order.") % {"list": title}]
    names = [_title(document, changes[0]) for changes in by_entry]
    if kind == "changed" and len(names) <= MOST and list_name not in ("flush", "even"):
        return [
            _changed(document, name, changes)
            for name, changes in zip(names, by_entry, strict=True)
        ]
    said = {
        "added": _("%(list)s, added: %(names)s."),
        "removed": _("%(list)s, removed: %(names)s."),
        "changed": _("%(list)s, changed: %(names)s."),
    }[kind]
    return [said % {"list": title, "names": listed(names)}]


def listed(names: Sequence[str]) -> str:
    """Return names one after the other; of many the first, and how many more."""
    if len(names) <= MOST + 1:
        return ", ".join(names)
    first = ", ".join(names[:MOST])
    return _("%(names)s and %(n)d more") % {"names": first, "n": len(names) - MOST}


def _changed(document: Document, name: str, changes: Sequence[Change]) -> str:
    """Return what of an entry changed: from what to what where that is short."""
    fields = list(dict.fromkeys(field_words(one.field) for one in changes))
    one = changes[0]
    if len(changes) == 1 and not any(
        isinstance(value, list) for value in (one.before, one.after)
    ):
        return _("%(name)s: %(field)s changed from %(before)s to %(after)s.") % {
            "name": name,
            "field": fields[0],
            "before": value_words(document, one.field, one.before),
            "after": value_words(document, one.field, one.after),
        }
    return _("%(name)s: %(fields)s changed.") % {
        "name": name,
        "fields": listed(fields),
    }


def field_words(field: str) -> str:
    """Return what a field of an entry is called."""
    return str(w.FIELDS.get(field, field.replace("_", " ")))


def _title(document: Document, change: Change) -> str:
    """Return what an entry is called: as it was, where it is there no more."""
    ref = change.at[0]
    entry = change.after if change.after is not None else change.before
    return entry_words(document, ref, None if change.field else entry)


def entry_words(document: Document, ref: Ref, entry: Any) -> str:
    """Return what an entry is called; `entry` where the document may not hold it."""
    name = cast(ListName, ref.list_name)
    if name == "flush":
        return w.flush_words(document, entry)
    if name == "even":
        return w.even_words(document, entry)
    if ref.key in keyed(document, name):
        return w.title_of(document, name, keyed(document, name)[ref.key][0])
    return w.title_of({**document, name: [entry]}, name, 0)


def value_words(document: Document, field: str, value: Any) -> str:
    """Return what stands in a field, by the names that people gave."""
    if value is None:
        return _("nothing")
    if isinstance(value, dict) and set(value) == {"of_thickness"}:
        share = w.text(value["of_thickness"])
        return _("%(share)s of the thickness") % {"share": share}
    if isinstance(value, dict):
        said = [f"{_inner(document, name, value[name])}" for name in value]
        return ", ".join(said)
    if isinstance(value, list):
        return listed([value_words(document, field, item) for item in value])
    text = w.text(value)
    if field in ("guest", "host", "from", "to") and face_parts(text)[0]:
        return w.face_words(document, text)
    if field == "stage":
        return _(STAGES[text]) if text in STAGES else text
    if field == "kind":
        return (
            _(KINDS[text].title)
            if text in KINDS
            else str(w.STOCK_KINDS.get(text, text))
        )
    if field == "machine":
        return machine_words(text)
    lists = {"stock": "stock", "pair": "parts"}
    if field in lists:
        return name_of(document, cast(ListName, lists[field]), text)
    return text if len(text) <= LONGEST else f"{text[:LONGEST]} …"


def _inner(document: Document, name: str, value: Any) -> str:
    if name == "machine":
        return value_words(document, name, value)
    words = field_words({"edge_shoulder": "shoulder"}.get(name, name))
    return f"{words} {value_words(document, name, value)}"


def _conflict(document: Document, conflict: Conflict) -> ConflictLine:
    ref = conflict.at[0]
    mine, theirs = conflict.mine, conflict.theirs
    entry = mine if theirs is None else theirs
    is_in = conflict.stays and mine is not None and _is_there(document, conflict)
    if ref.list_name == "head":
        name = field_words(conflict.field).capitalize()
        said = _(
            "%(name)s: you changed it to %(mine)s, and it was changed to %(theirs)s."
        )
    else:
        name = entry_words(document, ref, None if conflict.field else entry)
        said = _conflict_words(conflict, is_in=is_in)
    return ConflictLine(
        words=said
        % {
            "name": name,
            "field": field_words(conflict.field),
            "mine": value_words(document, conflict.field, mine),
            "theirs": value_words(document, conflict.field, theirs),
        },
        place=conflict.place,
        can_put_mine=not is_in,
    )


def _conflict_words(conflict: Conflict, *, is_in: bool) -> str:
    if conflict.field:
        return _(
            "%(name)s: you changed its %(field)s to %(mine)s, and it was changed to "
            "%(theirs)s."
        )
    is_part = conflict.at[0].list_name == "parts"
    if conflict.mine is None and is_part:
        return _(
            "%(name)s: you removed it, and somebody else works on it. It stays, with "
            "all that was tied to it."
        )
    if conflict.mine is None:
        return _("%(name)s: you removed it, and it was changed. It stays.")
    if not is_in:
        return _("%(name)s: you changed it, and it was removed.")
    if is_part:
        return _(
            "%(name)s: somebody else removed it while you worked on it. It stays with "
            "your change, and with all that was tied to it."
        )
    return _("%(name)s: somebody else removed it while you changed it. It stays, as "
             "you changed it.")  # fmt: skip


def _is_there(document: Document, conflict: Conflict) -> bool:
    ref = conflict.at[0]
    name: ListName = next(known for known in LISTS if known == ref.list_name)
    if ref.key:
        return ref.key in keyed(document, name)
    return conflict.mine in entries(document, name)
