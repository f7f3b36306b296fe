"""What somebody asks of a draft with a form: to save, move, copy or remove an entry."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.http import QueryDict
from django.utils.translation import gettext as _

from projects.draft_forms import KEYED, NEW, SAVES, Entry, need, read_entry, text_in
from projects.draft_step_forms import save_step
from projects.drafting import Naming, Operation
from projects.engine import draft as engine
from projects.engine.draft import Document
from projects.engine.draft.document import entries
from projects.engine.errors import EngineError
from projects.present import draft_words
from projects.present.draft_again import KEPT_ON


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Hold a change somebody asks for: what to do, what it is called, on what.

    `opens` is what stands open afterwards, where something does: `moved` up or down,
    or starting with what it `goes_on_with` from the entry before.
    """

    operation: Operation
    what: Naming
    entry: Entry
    opens: Entry | None = None
    adds: bool = False
    moved: str = ""
    goes_on_with: Mapping[str, str] = field(default_factory=dict)

    def lands_on(self, document: Document) -> Entry:
        """Return the entry that the change leaves in view."""
        if not self.entry.is_new or not self.adds:
            return self.entry
        every = entries(document, self.entry.list)
        last = len(every) - 1
        if self.entry.list_name in KEYED:
            return Entry(list_name=self.entry.list_name, key=every[last]["key"])
        return Entry(list_name=self.entry.list_name, key=str(last))


def read_change(data: QueryDict) -> Asked:
    """Return the change that a form asks for.

    Raises `FormError` for a field that has to be filled in otherwise, and
    `EngineError` for a form that is none of ours.
    """
    entry = read_entry(data.get("entry", ""))
    verb = VERBS.get(data.get("op", "").partition(":")[0])
    is_whole = entry is not None and entry.list_name != "head" and not entry.is_new
    if entry is None or verb is None or (verb is not _save and not is_whole):
        raise EngineError("this form is not known here")
    return verb(entry, data)


def _save(entry: Entry, data: QueryDict) -> Asked:
    """Add an entry, or change it."""
    operation = SAVING[entry.list_name](entry, data)
    opens, goes_on_with = None, {}
    if data.get("op") == "save:more":
        opens = Entry(list_name=entry.list_name, key=NEW)
        kept = KEPT_ON.get(entry.list_name, ())
        goes_on_with = {name: text_in(data, name) for name in kept}
    elif not entry.is_new and (
        entry.list_name in ("flush", "even") or data.get("op") == "save:unpictured"
    ):
        opens = entry
    return Asked(
        operation=operation,
        what=_saved(entry),
        entry=entry,
        opens=opens,
        adds=entry.is_new,
        goes_on_with=goes_on_with,
    )


def _saved(entry: Entry) -> Naming:
    def what(old: Document, new: Document) -> str:
        if entry.list_name == "head":
            fields = [n for n in ("title", "units", "tape") if old.get(n) != new.get(n)]
            words = [str(draft_words.FIELDS[name]) for name in fields]
            return _(" and ").join(words) or _("title")
        if entry.is_new:
            last = len(entries(new, entry.list)) - 1
            title = draft_words.title_of(new, entry.list_name, last)
            return _("%(entry)s added") % {"entry": title}
        n = entry.index_in(new)
        before, after = (entries(d, entry.list)[n] for d in (old, new))
        fields = []
        if isinstance(before, dict) and isinstance(after, dict):
            fields = [
                name
                for name in {**before, **after}
                if before.get(name) != after.get(name)
            ]
        return draft_words.change_words(new, entry.list_name, n, fields)

    return what


def _remove(entry: Entry, _data: QueryDict) -> Asked:
    def operation(document: Document) -> Document:
        if entry.list_name in ("flush", "even"):
            return REMOVES[entry.list_name](document, entry.index_in(document))
        if entry.list_name not in REMOVES:
            raise EngineError("this can't be removed")
        return REMOVES[entry.list_name](document, entry.key)

    asked = _of(entry, operation, _("%(entry)s removed"))
    return replace(asked, entry=Entry(list_name=entry.list_name, key=NEW))


def _of(
    entry: Entry, operation: Operation, words: str, *, opens: Entry | None = None
) -> Asked:
    """Return a change that is called after the entry as it was before."""

    def what(old: Document, _new: Document) -> str:
        title = draft_words.title_of(old, entry.list_name, entry.index_in(old))
        return words % {"entry": title}

    return Asked(operation=operation, what=what, entry=entry, opens=opens)


def _moved(by: int) -> Callable[[Entry, QueryDict], Asked]:
    def verb(entry: Entry, _data: QueryDict) -> Asked:
        def operation(document: Document) -> Document:
            at = entry.index_in(document)
            last = len(entries(document, entry.list)) - 1
            to = min(max(at + by, 0), last)
            return engine.move(document, entry.list, at, to=to)

        opens = entry
        if entry.list_name not in KEYED and entry.key.isdecimal():
            opens = Entry(list_name=entry.list_name, key=str(int(entry.key) + by))
        asked = _of(entry, operation, _("%(entry)s moved"), opens=opens)
        return replace(asked, moved="up" if by < 0 else "down")

    return verb


def _moved_to(entry: Entry, data: QueryDict) -> Asked:
    """Move an entry to an index, as by dragging it there."""
    typed = data.get("op", "").partition(":")[2]
    if not typed.isdecimal() or len(typed) > 5:
        raise EngineError("this form is not known here")

    def operation(document: Document) -> Document:
        at = entry.index_in(document)
        return engine.move(document, entry.list, at, to=int(typed))

    return _of(entry, operation, _("%(entry)s moved"))


def _duplicate(entry: Entry, data: QueryDict) -> Asked:
    words = {"copy_name": _("Give the copy a name.")}
    name = need(data, **words)["copy_name"]
    return _of(
        entry,
        lambda document: engine.duplicate_part(document, entry.key, name=name),
        _("copy of %(entry)s"),
    )


def _pair(entry: Entry, data: QueryDict) -> Asked:
    name = text_in(data, "pair_name") or None
    return _of(
        entry,
        lambda document: engine.make_pair(document, entry.key, name=name),
        _("mirror image of %(entry)s"),
    )


def _pair_with(entry: Entry, data: QueryDict) -> Asked:
    other = need(data, partner=_("Choose a part."))["partner"]
    return _of(
        entry,
        lambda document: engine.pair_parts(document, entry.key, other),
        _("mirror image of %(entry)s"),
    )


def _unpair(entry: Entry, _data: QueryDict) -> Asked:
    return _of(
        entry,
        lambda document: engine.unpair(document, entry.key),
        _("%(entry)s no longer one of a pair"),
        opens=entry,
    )


def _drop(entry: Entry, data: QueryDict) -> Asked:
    """Take one face out of a flush list, or one space out of an even one."""
    which = data.get("op", "").partition(":")[2]

    def operation(document: Document) -> Document:
        index = entry.index_in(document)
        if entry.list_name == "flush":
            return engine.remove_from_flush(document, index, which)
        n = int(which) if which.isdecimal() and len(which) < 6 else -1
        return engine.remove_from_even(document, index, n)

    return _of(entry, operation, "%(entry)s", opens=entry)


REMOVES: dict[str, Callable[[Document, Any], Document]] = {
    "stock": engine.remove_stock,
    "parts": engine.remove_part,
    "joints": engine.remove_joint,
    "distances": engine.remove_distance,
    "flush": engine.remove_flush,
    "even": engine.remove_even,
    "steps": engine.remove_step,
}
SAVING = {**SAVES, "steps": save_step}
VERBS: dict[str, Callable[[Entry, QueryDict], Asked]] = {
    "save": _save,
    "remove": _remove,
    "up": _moved(-1),
    "down": _moved(1),
    "move": _moved_to,
    "duplicate": _duplicate,
    "pair": _pair,
    "pair_with": _pair_with,
    "unpair": _unpair,
    "drop": _drop,
}
