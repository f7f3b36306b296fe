"""The form of one entry of a draft: what stands in its fields, and what is wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, cast

from django.utils.translation import gettext as _

from projects.engine.draft import Document, what_goes
from projects.engine.draft.document import ListName, face_parts, keyed
from projects.engine.draft.records import Look
from projects.engine.errors import EngineError
from projects.engine.joints import KINDS
from projects.engine.plan.records import DIMENSIONS
from projects.present import draft_words as w
from projects.present.draft_again import another_joint
from projects.present.draft_choices import choices_of
from projects.present.draft_lines import slug_of
from projects.present.draft_notes import said
from projects.present.draft_steps import new_values, step_values

FIELD_OF = {
    "length": "lies",
    "width": "lies",
    "guest": "guest_part",
    "host": "host_part",
    "stops": "stop_by_1",
    "tenon": "tenon_thickness",
    "dowels": "dowel_diameter",
    "from": "from_part",
    "to": "to_part",
    "measure": "dry_fit",
}
"""Where on a form a fault of the plan's field is told; else at the field itself."""


FOCUS = {
    "head": ("title",),
    "stock": ("name", "thickness"),
    "parts": ("name",),
    "joints": ("guest_part", "host_part", "depth"),
    "distances": ("from_part", "to_part", "value"),
    "flush": ("from_part", "to_part"),
    "even": ("from1_part",),
    "steps": ("title",),
}
"""In which fields one starts to type: the first empty one, or in the last."""


@dataclass(frozen=True, kw_only=True)
class EntryForm:
    """Hold a form that is open.

    `values` are what stands in its fields, `errors` what is wrong by field, `notes`
    what else is said of the entry. `goes` is what goes with a part that is about to
    be removed, None before that is asked. `moved` is up or down after a move.
    """

    entry: str
    slug: str
    list_name: str
    is_new: bool
    title: str
    values: Mapping[str, Any]
    errors: Mapping[str, Sequence[str]] = field(default_factory=dict)
    notes: Sequence[str] = ()
    choices: Mapping[str, Any] = field(default_factory=dict)
    faces: Sequence[tuple[str, str]] = ()
    index: int = 0
    last: int = 0
    goes: tuple[str, ...] | None = None
    is_typed: bool = False
    moved: str = ""

    def value(self, name: str) -> str:
        """What stands in a field."""
        return w.text(self.values.get(name))

    @property
    def has_depth(self) -> bool:
        """Whether a joint of the kind chosen has a depth."""
        kind = KINDS.get(self.value("kind"))
        return kind is None or kind.depth != "none"

    @property
    def focus(self) -> str:
        """The field to start at: the first that is wrong, or empty.

        None where the form was only reloaded for its pick lists. After a move it is
        the button that moves on, or at an end of the list the other.
        """
        if self.moved:
            is_down = self.index == 0 or (
                self.moved == "down" and self.index < self.last
            )
            return "down" if is_down else "up"
        told = next((name for name in self.errors if name), "")
        if told or self.is_typed:
            return told
        order = FOCUS[self.list_name]
        if not self.is_new:
            return order[-1]
        return next((name for name in order if not self.value(name)), order[-1])

    @property
    def again(self) -> str:
        """Which query opens the form of another joint like this one."""
        return another_joint(self.values)

    @property
    def template(self) -> str:
        """The template with the fields of this kind of entry."""
        return f"projects/_draft_form_{self.list_name}.html"


def entry_form(
    document: Document,
    look: Look,
    list_name: str,
    key: str,
    *,
    typed: Mapping[str, Any],
    is_whole: bool = False,
    errors: Mapping[str, Sequence[str]] | None = None,
    asks_to_remove: bool = False,
    moved: str = "",
) -> EntryForm | None:
    """Return the form of an entry, or None where there is no such entry.

    `typed` is what stands in the fields instead of what the draft holds: in some of
    them, or with `is_whole` in all.
    """
    is_new = key == "new"
    index = -1 if is_new else _index(document, list_name, key)
    if index is None:
        return None
    held = {} if is_whole else _values(document, list_name, index)
    values = {**held, **typed}
    named = f"{list_name}:{key}"
    told = _told(look, list_name, index) if not is_new else ({}, [])
    if errors is not None:
        told = ({k: list(v) for k, v in errors.items()}, list(errors.get("", ())))
    return EntryForm(
        entry=named,
        slug=slug_of(named),
        list_name=list_name,
        is_new=is_new,
        title="" if is_new else _title(document, list_name, index),
        values=values,
        errors=told[0],
        notes=told[1],
        choices=choices_of(document, list_name, values, key),
        faces=_listed(document, list_name, index),
        index=index,
        last=len(w.rows(document, list_name)) - 1,
        goes=_goes(document, list_name, key) if asks_to_remove else None,
        is_typed=is_whole,
        moved=moved if moved in ("up", "down") else "",
    )


def _index(document: Document, list_name: str, key: str) -> int | None:
    if list_name == "head":
        return 0
    if list_name in ("flush", "even"):
        every = w.rows(document, list_name)
        n = int(key) if key.isdecimal() and len(key) < 6 else -1
        return n if 0 <= n < len(every) else None
    found = keyed(document, cast(ListName, list_name)).get(key)
    return found[0] if found else None


def _title(document: Document, list_name: str, index: int) -> str:
    if list_name == "head":
        return str(_("Title and units"))
    return w.title_of(document, list_name, index)


def _told(
    look: Look, list_name: str, index: int
) -> tuple[dict[str, list[str]], list[str]]:
    """Return the faults of an entry by field, and what else is said of it."""
    errors: dict[str, list[str]] = {}
    notes = []
    for note in look.notes:
        for ref in note.at:
            if (ref.list_name, ref.index) != (list_name, index):
                continue
            if note in look.faults:
                name = ref.field.partition(".")[0].partition("[")[0]
                errors.setdefault(FIELD_OF.get(name, name), []).append(said(note))
            else:
                notes.append(said(note))
            break
    return errors, notes


def _values(document: Document, list_name: str, index: int) -> dict[str, Any]:
    if list_name == "head":
        return {name: document.get(name) for name in ("title", "units", "tape")}
    if index < 0:
        return new_values(document) if list_name == "steps" else {}
    entry = w.rows(document, list_name)[index]
    if not isinstance(entry, dict):
        return {}
    values = dict(entry)
    if list_name == "steps":
        return step_values(entry)
    if list_name == "parts":
        values["lies"] = "".join(w.text(entry.get(name)) for name in DIMENSIONS)
    if list_name == "joints":
        values.update(_joint_values(entry))
    if list_name == "distances":
        values.update(_ends(entry, **{"from": "from", "to": "to"}))
        values["dry_fit"] = bool(entry.get("measure"))
    return values


def _ends(entry: Mapping[str, Any], **names: str) -> dict[str, str]:
    values: dict[str, str] = {}
    for prefix, name in names.items():
        part, face = face_parts(entry.get(name))
        values |= {f"{prefix}_part": part, f"{prefix}_face": face}
    return values


def _joint_values(joint: Mapping[str, Any]) -> dict[str, Any]:
    values: dict[str, Any] = _ends(joint, guest="guest", host="host")
    values |= _share("depth", joint.get("depth"))
    stops = joint.get("stops")
    for n, stop in enumerate(stops if isinstance(stops, list) else (), start=1):
        if isinstance(stop, dict):
            values |= {f"stop_at_{n}": stop.get("at"), f"stop_by_{n}": stop.get("by")}
    tenon = joint.get("tenon")
    if isinstance(tenon, dict):
        values |= _share("tenon_thickness", tenon.get("thickness"))
        values["edge_shoulder"] = tenon.get("edge_shoulder")
    dowels = joint.get("dowels")
    if isinstance(dowels, dict):
        values |= {f"dowel_{name}": dowels.get(name) for name in dowels}
    return values


def _share(name: str, value: Any) -> dict[str, Any]:
    if isinstance(value, dict):
        return {name: value.get("of_thickness"), f"{name}_as": "share"}
    return {name: value, f"{name}_as": "length"}


def _goes(document: Document, list_name: str, key: str) -> tuple[str, ...]:
    if list_name != "parts":
        return ()
    try:
        return tuple(said(note) for note in what_goes(document, key))
    except EngineError:
        # somebody else removed it meanwhile
        return ()


def _listed(
    document: Document, list_name: str, index: int
) -> tuple[tuple[str, str], ...]:
    """Return the faces of a flush list, or the spaces of an even one, in words."""
    if index < 0 or list_name not in ("flush", "even"):
        return ()
    entry = w.rows(document, list_name)[index]
    if list_name == "flush":
        every = entry if isinstance(entry, list) else []
        return tuple((str(face), w.face_words(document, face)) for face in every)
    return tuple(
        (
            str(n),
            f"{w.face_words(document, start)} → {w.face_words(document, end)}",
        )
        for n, (start, end) in enumerate(w.pairs_of(entry))
    )
