"""What is still open in a draft, each with the form that would fix it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from django.utils.translation import gettext as _

from projects.engine.draft import Document
from projects.engine.draft.document import face_parts
from projects.engine.draft.records import Fix, Look, Note, Question, Ref
from projects.present.draft_words import FACES, title_of

KINDS = ("open", "slot", "place")


@dataclass(frozen=True, kw_only=True)
class Way:
    """A link to a form: `query` opens it, `about` is said to those who only hear."""

    words: str
    query: str
    about: str = ""


@dataclass(frozen=True, kw_only=True)
class NoteLine:
    """One thing to look at; `kind` is error, open, slot, place or gives.

    Of these the plan can be published with the last three.
    """

    kind: str
    text: str
    ways: tuple[Way, ...]


def said(note: Note) -> str:
    """Return what a note says, in the reader's language."""
    words = _(note.message).format(**note.values)
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")


def note_lines(document: Document, look: Look) -> tuple[NoteLine, ...]:
    """Return everything that is open, what stands most in the way first."""
    if not document.get("parts") and not document.get("stock"):
        # nothing is wrong with a plan that was only just started
        return ()
    lines = [
        NoteLine(
            kind="error", text=_fault(document, note), ways=_entries(document, note)
        )
        for note in look.faults
    ]
    lines += [
        NoteLine(kind="error", text=said(note), ways=_entries(document, note))
        for note in (*look.contradictions, *look.troubles)
    ]
    lines += [
        NoteLine(kind=_kind(note), text=said(note), ways=_fixes(document, note))
        for note in sorted(look.questions, key=lambda note: KINDS.index(_kind(note)))
    ]
    lines += [
        NoteLine(kind="gives", text=said(note), ways=_entries(document, note))
        for note in look.gives
    ]
    return tuple(lines)


def _kind(question: Question) -> str:
    if question.needed:
        return "open"
    return "slot" if question.cuts else "place"


def _fault(document: Document, note: Note) -> str:
    """Return a fault with the name of its entry before it."""
    ref = note.at[0] if note.at else Ref(list_name="head")
    if ref.list_name == "head":
        return str(said(note))
    title = title_of(document, ref.list_name, ref.index)
    return f"{title}: {_(note.message).format(**note.values)}."


def _entries(document: Document, note: Note) -> tuple[Way, ...]:
    """Return a link to each entry that a note is about."""
    entries = dict.fromkeys((ref.list_name, ref.index) for ref in note.at)
    keys = {(ref.list_name, ref.index): ref.key for ref in note.at}
    return tuple(
        Way(
            words=title_of(document, *at) if at[0] != "head" else _("Title and units"),
            query=urlencode({"open": f"{at[0]}:{keys[at] or at[1]}"}),
        )
        for at in entries
    )


def _fixes(document: Document, question: Question) -> tuple[Way, ...]:
    if question.kind == "distance":
        return _entries(document, question)
    fixes = question.fixes
    if question.kind == "place":
        # of a part that nothing ties on three axes, one answer an axis is enough
        fixes = tuple(fix for fix in fixes if fix.kind == "joint") or fixes
        if len(question.axes) == 1:
            fixes = question.fixes
    return tuple(_way(document, question, fix) for fix in fixes)


def _way(document: Document, question: Question, fix: Fix) -> Way:
    ends = [face_parts(face) for face in fix.faces]
    part, name = ends[0]
    face = str(FACES.get(name, name))
    fields = {"open": f"{LISTS[fix.kind]}:new"}
    if fix.kind == "joint":
        fields |= {"guest_part": part, "guest_face": name}
        words = _("Join its %(face)s") % {"face": face}
    else:
        fields |= {"from_part": part, "from_face": name}
        words = _("Make its %(face)s flush") % {"face": face}
    if fix.kind == "distance":
        other, other_name = ends[1]
        fields |= {"to_part": other, "to_face": other_name}
        words = _("Set a distance from its %(face)s") % {"face": face}
        if other == part:
            size = question.values.get("dimension", "")
            words = _("Set its %(size)s") % {
                "size": _(str(size)) if size else _("size")
            }
    return Way(
        words=words, query=urlencode(fields), about=title_of_part(document, part)
    )


def title_of_part(document: Document, key: str) -> str:
    """Return the name of a part."""
    parts: Iterable[object] = document.get("parts", ())
    for n, entry in enumerate(parts):
        if isinstance(entry, dict) and entry.get("key") == key:
            return title_of(document, "parts", n)
    return key


LISTS = {"distance": "distances", "joint": "joints", "flush": "flush"}
