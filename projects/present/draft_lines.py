"""The lists of a draft: one quiet line an entry."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from projects.engine.draft import Document
from projects.engine.draft.document import name_of, units_of
from projects.engine.draft.records import Look
from projects.engine.errors import EngineError
from projects.engine.plan.records import DIMENSIONS
from projects.engine.units import Shown, read_length
from projects.present import draft_words as w
from projects.present.draft_steps import step_words
from projects.showing import Showing

SECTIONS = (
    ("stock", gettext_lazy("Stock"), gettext_lazy("Add stock")),
    ("parts", gettext_lazy("Parts"), gettext_lazy("Add a part")),
    ("joints", gettext_lazy("Joints"), gettext_lazy("Add a joint")),
    ("distances", gettext_lazy("Distances"), gettext_lazy("Add a distance")),
    ("flush", gettext_lazy("Flush faces"), gettext_lazy("Make faces flush")),
    ("even", gettext_lazy("Even spacing"), gettext_lazy("Space evenly")),
    ("steps", gettext_lazy("Steps"), gettext_lazy("Add a step")),
)
KEYED = ("stock", "parts", "joints", "distances", "steps")


@dataclass(frozen=True, kw_only=True)
class Line:
    """One entry: its name, what it says, its sizes; `state` is error, open or gives."""

    entry: str
    slug: str
    title: str
    words: str
    sizes: tuple[Shown | None, ...]
    state: str


@dataclass(frozen=True, kw_only=True)
class Section:
    """One list of the draft, ready to be read."""

    list_name: str
    title: str
    add: str
    lines: tuple[Line, ...]


def slug_of(entry: str) -> str:
    """Return what an entry is called in the ids of the page."""
    return entry.replace(":", "-")


def sections(document: Document, look: Look, showing: Showing) -> tuple[Section, ...]:
    """Return every list with its lines."""
    states = _states(look)
    return tuple(
        Section(
            list_name=name,
            title=str(title),
            add=str(add),
            lines=tuple(
                _line(document, look, showing, name, n, entry, states)
                for n, entry in enumerate(w.rows(document, name))
            ),
        )
        for name, title, add in SECTIONS
    )


def head_line(document: Document) -> Line:
    """Return the line of title and units."""
    units = _("Millimetres") if document.get("units") == "mm" else _("Inches")
    return Line(
        entry="head:",
        slug="head-",
        title=_("Title and units"),
        words=_("%(units)s, tape to 1/%(tape)s in")
        % {"units": units, "tape": w.text(document.get("tape", 16))},
        sizes=(),
        state="",
    )


def _states(look: Look) -> dict[tuple[str, int], str]:
    """Return the state of each entry that something is said of."""
    states: dict[tuple[str, int], str] = {}
    for state, notes in (
        ("error", (*look.faults, *look.contradictions, *look.troubles)),
        ("open", tuple(note for note in look.questions if note.needed)),
    ):
        for note in notes:
            for ref in note.at:
                states.setdefault((ref.list_name, ref.index), state)
    for note in look.gives:
        ref = note.at[0]
        states.setdefault((ref.list_name, ref.index), "gives")
    return states


def _line(
    document: Document,
    look: Look,
    showing: Showing,
    list_name: str,
    n: int,
    entry: Any,
    states: Mapping[tuple[str, int], str],
) -> Line:
    key = entry.get("key") if isinstance(entry, dict) else None
    named = f"{list_name}:{key if list_name in KEYED and key else n}"
    fields = entry if isinstance(entry, dict) else {}
    title = w.title_of(document, list_name, n)
    return Line(
        entry=named,
        slug=slug_of(named),
        title=f"{n + 1}. {title}" if list_name == "steps" else title,
        words=_words(document, list_name, fields),
        sizes=_sizes(document, look, showing, list_name, fields),
        state=states.get((list_name, n), ""),
    )


def _words(document: Document, list_name: str, fields: Mapping[str, Any]) -> str:
    if list_name == "stock":
        kind = w.text(fields.get("kind"))
        said = [str(w.STOCK_KINDS.get(kind, kind)), w.text(fields.get("species"))]
        return ", ".join(word for word in said if word)
    if list_name == "parts":
        return _part_words(document, fields)
    if list_name == "joints":
        return w.joint_words(document, dict(fields))
    if list_name == "steps":
        return step_words(document, fields)
    return _distance_words(document, fields) if list_name == "distances" else ""


def _part_words(document: Document, part: Mapping[str, Any]) -> str:
    lies = "".join(w.text(part.get(dimension)) for dimension in DIMENSIONS)
    said = [
        name_of(document, "stock", w.text(part.get("stock"))),
        str(w.LIES_WORDS.get(lies, "")),
    ]
    if part.get("count"):
        said.append(_("%(count)s alike") % {"count": part["count"]})
    if part.get("pair"):
        other = name_of(document, "parts", w.text(part["pair"]))
        said.append(_("mirror of %(other)s") % {"other": other})
    return "; ".join(word for word in said if word)


def _distance_words(document: Document, distance: Mapping[str, Any]) -> str:
    start, end = distance.get("from"), distance.get("to")
    between = w.between_words(document, start, end)
    # one without a name of its own is called so already
    said = [between] if between != distance.get("name") else []
    if distance.get("value"):
        said.append(_("wanted %(value)s") % {"value": w.text(distance["value"])})
    if distance.get("held"):
        said.append(_("held as number %(rank)s") % {"rank": distance["held"]})
    if distance.get("measure"):
        said.append(_("measured on the dry fit"))
    fits = distance.get("fits")
    if isinstance(fits, list) and fits:
        names = ", ".join(name_of(document, "parts", w.text(key)) for key in fits)
        said.append(_("cut to it: %(parts)s") % {"parts": names})
    return "; ".join(said)


def _sizes(
    document: Document,
    look: Look,
    showing: Showing,
    list_name: str,
    fields: Mapping[str, Any],
) -> tuple[Shown | None, ...]:
    """Return the sizes of a line, None for one that nothing fixes yet."""
    key = w.text(fields.get("key"))
    if list_name == "parts":
        found = [look.sizes.get((key, dimension)) for dimension in DIMENSIONS]
    elif list_name == "distances":
        found = [look.distances.get(key)]
    elif list_name == "stock":
        return (_thickness(document, fields, showing),)
    else:
        return ()
    return tuple(showing.of(mm) if mm is not None and mm > 0 else None for mm in found)


def _thickness(
    document: Document, stock: Mapping[str, Any], showing: Showing
) -> Shown | None:
    typed = w.text(stock.get("thickness"))
    try:
        return showing.of(read_length(typed, unit=units_of(document)).mm)
    except EngineError:
        # the look at the draft tells what is wrong with it
        return None
