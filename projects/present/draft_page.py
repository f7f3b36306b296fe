"""A draft's page: its lists, the drawing beside them, and what is still open."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from projects.engine import draft as engine
from projects.engine.draft import Document
from projects.engine.draft.document import units_of
from projects.engine.draft.records import Look
from projects.engine.plan.records import Plan
from projects.engine.units.show import TAPES
from projects.models import DraftChange, Revision
from projects.present.draft_drawing import VIEWS, draft_drawings, guessed_names
from projects.present.draft_form import EntryForm, entry_form
from projects.present.draft_lines import Line, Section, head_line, sections, slug_of
from projects.present.draft_meanwhile import Meanwhile
from projects.present.draft_notes import NoteLine, note_lines
from projects.present.draft_pick import Picked, picked
from projects.present.draft_steps import Steps, steps_of
from projects.showing import Showing, showing_named


@dataclass(frozen=True, kw_only=True)
class Opened:
    """What stands open on the page: an entry's form, and what was typed there.

    `is_whole` where `typed` is all of the form, so that nothing else stands in it;
    `moved` is up or down where it was just moved.
    """

    list_name: str
    key: str
    typed: Mapping[str, Any]
    is_whole: bool = False
    errors: Mapping[str, Sequence[str]] | None = None
    asks_to_remove: bool = False
    moved: str = ""


@dataclass(frozen=True, kw_only=True)
class DraftPage:
    """All that the live part of the page shows."""

    change: DraftChange
    title: str
    undoes: str
    redoes: str
    head: Line
    sections: tuple[Section, ...]
    steps: Steps
    form: EntryForm | None
    focus: str
    view: str
    views: Mapping[str, Any]
    drawings: tuple[str, ...]
    drawn: int
    guessed: tuple[str, ...]
    picked: Picked | None
    notes: tuple[NoteLine, ...]
    ready: bool
    nothing_new: bool
    meanwhile: tuple[Meanwhile, ...]
    refusal: tuple[str, ...]

    @property
    def in_the_way(self) -> int:
        """How many things keep the plan from being published."""
        return sum(note.kind in ("error", "open") for note in self.notes)


@lru_cache(maxsize=32)
def look_at(text: str) -> Look:
    """Return the look at a document, given as its JSON text."""
    return engine.look(json.loads(text))


@lru_cache(maxsize=32)
def written(published: str) -> str:
    """Return a published plan file as a draft of it would be written."""
    return engine.plan_text(engine.read_document(published))


@lru_cache(maxsize=32)
def steps_told(text: str) -> Steps:
    """Return what is told of the steps of a document, given as its JSON text."""
    return steps_of(look_at(text))


@lru_cache(maxsize=64)
def drawings_of(text: str, view: str, showing: Showing) -> tuple[str, ...]:
    """Return the drawings of a document, given as its JSON text."""
    return draft_drawings(look_at(text), showing, view=view)


def _is_same(change: DraftChange, published: Revision) -> bool:
    """Tell whether a state of a draft is the revision it goes on from."""
    document: Document = json.loads(change.document)
    return engine.plan_text(document) == written(published.document)


def is_faulty(change: DraftChange, list_name: str, key: str) -> bool:
    """Tell whether something typed into an entry can't be read."""
    return any(
        ref.list_name == list_name and (ref.key or str(ref.index)) == key
        for fault in look_at(change.document).faults
        for ref in fault.at
    )


def head_plan(document: Document) -> Plan:
    """Return a plan with the document's title, units and tape only."""
    tape = document.get("tape")
    return Plan(
        title=str(document.get("title", "")),
        units=units_of(document),
        tape=tape if tape in TAPES else 16,
        stock=(),
        parts=(),
        joints=(),
        distances=(),
        flush=(),
        even=(),
        digest="",
    )


def draft_page(
    change: DraftChange,
    *,
    redoes: str,
    shown_as: str,
    view: str,
    published: Revision | None,
    opened: Opened | None = None,
    focus: str = "",
    pick: Sequence[str] = (),
    meanwhile: Sequence[Meanwhile] = (),
    refusal: Sequence[str] = (),
) -> DraftPage:
    """Return the page of the state `change`; `shown_as` is how sizes are shown.

    `published` is the revision that the draft goes on from.
    """
    document: Document = json.loads(change.document)
    look = look_at(change.document)
    showing = showing_named(shown_as, head_plan(document))
    form = _form(document, look, opened) if opened else None
    return DraftPage(
        change=change,
        title=str(document.get("title", "")),
        undoes=change.what if change.parent is not None else "",
        redoes=redoes,
        head=head_line(document),
        sections=sections(document, look, showing),
        steps=steps_told(change.document),
        form=form,
        focus=slug_of(focus),
        view=view if view in VIEWS else "front",
        views=VIEWS,
        drawings=drawings_of(change.document, view, showing),
        drawn=len(look.drawn),
        guessed=guessed_names(look),
        picked=picked(document, look, pick) if pick else None,
        notes=note_lines(document, look),
        ready=look.ready,
        nothing_new=look.ready
        and published is not None
        and _is_same(change, published),
        meanwhile=tuple(meanwhile),
        refusal=tuple(refusal),
    )


def _form(document: Document, look: Look, opened: Opened) -> EntryForm | None:
    return entry_form(
        document,
        look,
        opened.list_name,
        opened.key,
        typed=opened.typed,
        is_whole=opened.is_whole,
        errors=opened.errors,
        asks_to_remove=opened.asks_to_remove,
        moved=opened.moved,
    )
