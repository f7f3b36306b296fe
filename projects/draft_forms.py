"""What the forms of a draft's entries send, read into operations on its document.

An entry is named `list:key`, such as `parts:shelf`; `list:new` is one to add. Flush
and even lists have no keys and are named by their index. What is typed as a length
is kept as typed: the look at the draft tells what is wrong with it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, cast

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _lazy

from projects.drafting import Operation
from projects.engine import draft as engine
from projects.engine.draft import Document
from projects.engine.draft.document import ListName, entry_at, face_parts
from projects.engine.draft.ties import opposite
from projects.engine.errors import EngineError
from projects.present import draft_words

NEW = "new"
KEYED = ("stock", "parts", "joints", "distances", "steps")
LISTS = ("head", *KEYED, "flush", "even")
LONGEST = 200


class FormError(EngineError):
    """Tell what of a form has to be filled in otherwise, by field."""

    def __init__(self, fields: Mapping[str, str]) -> None:
        self.fields = dict(fields)
        super().__init__("{lines}", lines="\n".join(self.fields.values()))


@dataclass(frozen=True, kw_only=True)
class Entry:
    """Name an entry of a draft."""

    list_name: str
    key: str = ""

    def __str__(self) -> str:
        return f"{self.list_name}:{self.key}"

    @property
    def list(self) -> ListName:
        """Its list, for the engine; `head` is none, and no operation there takes it."""
        return cast(ListName, self.list_name)

    @property
    def is_new(self) -> bool:
        """Whether it is one to add."""
        return self.key == NEW

    def index_in(self, document: Document) -> int:
        """Return its index; raises `EngineError` where there is no such entry."""
        if self.list_name in KEYED:
            return engine.find(document, self.list, self.key)
        number = int(self.key) if self.key.isdecimal() and len(self.key) < 6 else -1
        if self.list_name != "head":
            entry_at(document, self.list, number)
        return number


class StartForm(forms.Form):
    """Start a plan: what it is called, and the units of bare numbers in it."""

    title = forms.CharField(label=_lazy("Title"), max_length=80)
    units = forms.ChoiceField(
        label=_lazy("Units"),
        choices=[("in", _lazy("Inches")), ("mm", _lazy("Millimetres"))],
    )


class ShareForm(forms.Form):
    """Name an instructor who may write at a plan too."""

    username = forms.CharField(label=_lazy("Sign-in name"), max_length=40)


def read_entry(text: str) -> Entry | None:
    """Return the entry that `list:key` names; None where it names no list."""
    list_name, _colon, key = text.partition(":")
    if list_name not in LISTS:
        return None
    return Entry(list_name=list_name, key=key[:60])


def text_in(data: QueryDict, name: str) -> str:
    return " ".join(data.get(name, "").split())[:LONGEST]


def need(data: QueryDict, **fields: str) -> dict[str, str]:
    """Return fields that must be filled in, or raise what each of them wants."""
    found = {name: text_in(data, name) for name in fields}
    missing = {name: words for name, words in fields.items() if not found[name]}
    if missing:
        raise FormError(missing)
    return found


def _face(data: QueryDict, prefix: str) -> str:
    part, name = text_in(data, f"{prefix}_part"), text_in(data, f"{prefix}_face")
    return f"{part}.{name}" if part or name else ""


def _save_head(_entry: Entry, data: QueryDict) -> Operation:
    title = need(data, title=_("Give the plan a title."))["title"]
    tape, units = text_in(data, "tape"), text_in(data, "units")

    def operation(document: Document) -> Document:
        made = engine.set_title(document, title)
        made = engine.set_units(made, "mm" if units == "mm" else "in")
        return engine.set_tape(made, int(tape) if tape.isdecimal() else 16)

    return operation


def _save_stock(entry: Entry, data: QueryDict) -> Operation:
    name = need(data, name=_("Give the stock a name, such as 3/4 in oak."))["name"]
    fields = {
        "name": name,
        "kind": text_in(data, "kind"),
        "species": text_in(data, "species"),
        "thickness": text_in(data, "thickness"),
    }
    if entry.is_new:
        return lambda document: engine.add_stock(document, **fields)
    return lambda document: engine.change_stock(document, entry.key, **fields)


def _save_part(entry: Entry, data: QueryDict) -> Operation:
    needed = need(
        data,
        name=_("Give the part a name, such as Left side."),
        stock=_("Choose the stock it is made of; add the stock first."),
    )
    lies = text_in(data, "lies")
    fields: dict[str, Any] = {
        **needed,
        "count": _whole(data, "count"),
        "round_over": text_in(data, "round_over"),
    }
    if lies in draft_words.LIES_WORDS:
        fields.update(zip(("length", "width", "thickness"), lies, strict=True))
    if entry.is_new:
        return lambda document: _new_part(document, fields)
    return lambda document: engine.change_part(document, entry.key, **fields)


def _new_part(document: Document, fields: dict[str, Any]) -> Document:
    """Add a part, then say of it what adding doesn't take."""
    added = {name: said for name, said in fields.items() if name != "round_over"}
    made = engine.add_part(document, **added)
    key = made["parts"][-1]["key"]
    return engine.change_part(made, key, round_over=fields["round_over"])


def _whole(data: QueryDict, name: str) -> int | str | None:
    """Return a whole number, or what was typed instead; one is not said."""
    typed = text_in(data, name)
    number = int(typed) if typed.isdecimal() and len(typed) < 6 else typed
    return None if number in (1, "") else number


def _save_joint(entry: Entry, data: QueryDict) -> Operation:
    words = _("Choose a part.")
    need(data, guest_part=words, host_part=words)
    guest = _face(data, "guest")
    host = f"{text_in(data, 'host_part')}.{opposite(face_parts(guest)[1])}"
    fields = {
        "kind": text_in(data, "kind"),
        "guest": guest,
        "host": host,
        "name": text_in(data, "name"),
        "depth": _share(data, "depth"),
        "clearance": text_in(data, "clearance"),
        **_details(data),
    }
    if entry.is_new:
        return lambda document: engine.add_joint(document, **fields)
    return lambda document: engine.change_joint(document, entry.key, **fields)


def _share(data: QueryDict, name: str) -> Any:
    """Return a length as typed, or a share of the thickness."""
    typed = text_in(data, name)
    if typed and data.get(f"{name}_as") == "share":
        return {"of_thickness": typed}
    return typed


def _details(data: QueryDict) -> dict[str, Any]:
    """Return what only a dado, a tenon or a dowelled joint has."""
    kind = data.get("kind")
    if kind == "dado":
        stops = [
            {"at": text_in(data, f"stop_at_{n}"), "by": text_in(data, f"stop_by_{n}")}
            for n in (1, 2)
        ]
        return {"stops": [stop for stop in stops if stop["at"] and stop["by"]]}
    if kind == "tenon":
        shoulder = text_in(data, "edge_shoulder")
        tenon = {
            "thickness": _share(data, "tenon_thickness"),
            "edge_shoulder": shoulder,
        }
        return {"tenon": {name: value for name, value in tenon.items() if value}}
    if kind == "dowel":
        dowels: dict[str, Any] = {
            name: text_in(data, f"dowel_{name}") for name in ("diameter", "length")
        }
        count = text_in(data, "dowel_count")
        dowels["count"] = int(count) if count.isdecimal() else count
        return {"dowels": dowels if any(dowels.values()) else None}
    return {}


def _save_distance(entry: Entry, data: QueryDict) -> Operation:
    words = _("Choose a part.")
    need(data, from_part=words, to_part=words)
    start, end = _face(data, "from"), _face(data, "to")
    fields: dict[str, Any] = {
        "start": start,
        "end": end,
        "value": text_in(data, "value"),
        "held": text_in(data, "held"),
        "measure": "dry_fit" if data.get("dry_fit") else None,
        "fits": data.getlist("fits")[:200] if data.get("dry_fit") else None,
    }
    name = text_in(data, "name")

    def operation(document: Document) -> Document:
        # a distance that got no name is called after its ends
        between = draft_words.between_words(document, start, end)
        named = {"name": name or between, **fields}
        if entry.is_new:
            return engine.add_distance(document, **named)
        return engine.change_distance(document, entry.key, **named)

    return operation


def _save_flush(entry: Entry, data: QueryDict) -> Operation:
    one, other = _face(data, "from"), _face(data, "to")
    if entry.is_new:
        need(data, from_part=_("Choose a part."), to_part=_("Choose a part."))
        return lambda document: engine.make_flush(document, one, other)
    need(data, to_part=_("Choose a part."))
    return lambda document: engine.add_to_flush(
        document, entry.index_in(document), other
    )


def _save_even(entry: Entry, data: QueryDict) -> Operation:
    words = _("Choose a part.")
    numbers = (1, 2) if entry.is_new else (1,)
    need(data, **{f"{e}{n}_part": words for n in numbers for e in ("from", "to")})
    pairs = [[_face(data, f"from{n}"), _face(data, f"to{n}")] for n in numbers]
    if entry.is_new:
        return lambda document: engine.add_even(document, pairs)
    return lambda document: engine.add_to_even(
        document, entry.index_in(document), *pairs[0]
    )


SAVES: dict[str, Callable[[Entry, QueryDict], Operation]] = {
    "head": _save_head,
    "stock": _save_stock,
    "parts": _save_part,
    "joints": _save_joint,
    "distances": _save_distance,
    "flush": _save_flush,
    "even": _save_even,
}
