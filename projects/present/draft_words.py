"""What the entries of a draft are called, and what they say, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, cast

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from projects.engine.draft import Document
from projects.engine.draft.document import (
    ListName,
    entries,
    face_parts,
    keyed,
    name_of,
)
from projects.engine.joints import KINDS

FACES = {
    "left": gettext_lazy("left"),
    "right": gettext_lazy("right"),
    "front": gettext_lazy("front"),
    "back": gettext_lazy("back"),
    "bottom": gettext_lazy("bottom"),
    "top": gettext_lazy("top"),
}
RUNS = {
    "x": gettext_lazy("left to right"),
    "y": gettext_lazy("front to back"),
    "z": gettext_lazy("up and down"),
}
STOCK_KINDS = {
    "solid": gettext_lazy("Solid wood"),
    "plywood": gettext_lazy("Plywood"),
    "mdf": gettext_lazy("MDF"),
    "sheet": gettext_lazy("Other sheet"),
}
LIES = (
    (
        gettext_lazy("Flat, like a shelf"),
        (
            ("xyz", gettext_lazy("length left to right, width front to back")),
            ("yxz", gettext_lazy("length front to back, width left to right")),
        ),
    ),
    (
        gettext_lazy("On edge or end, like a side"),
        (
            ("zyx", gettext_lazy("length up, width front to back")),
            ("yzx", gettext_lazy("length front to back, width up")),
        ),
    ),
    (
        gettext_lazy("On edge or end, like a back"),
        (
            ("xzy", gettext_lazy("length left to right, width up")),
            ("zxy", gettext_lazy("length up, width left to right")),
        ),
    ),
)
"""How a part can lie: the axes of its length, width and thickness, in words."""

FIELDS = {
    "title": gettext_lazy("title"),
    "units": gettext_lazy("units"),
    "tape": gettext_lazy("tape"),
    "name": gettext_lazy("name"),
    "kind": gettext_lazy("kind"),
    "species": gettext_lazy("species"),
    "stock": gettext_lazy("stock"),
    "length": gettext_lazy("how it lies"),
    "width": gettext_lazy("how it lies"),
    "thickness": gettext_lazy("thickness"),
    "count": gettext_lazy("number"),
    "pair": gettext_lazy("mirror image"),
    "round_over": gettext_lazy("round-over"),
    "guest": gettext_lazy("faces"),
    "host": gettext_lazy("faces"),
    "depth": gettext_lazy("depth"),
    "clearance": gettext_lazy("clearance"),
    "stops": gettext_lazy("stops"),
    "tenon": gettext_lazy("tenon"),
    "dowels": gettext_lazy("dowels"),
    "from": gettext_lazy("ends"),
    "to": gettext_lazy("ends"),
    "value": gettext_lazy("wanted size"),
    "held": gettext_lazy("rank"),
    "measure": gettext_lazy("dry fit"),
    "fits": gettext_lazy("what is cut to it"),
    "stage": gettext_lazy("stage"),
    "machine": gettext_lazy("machine"),
    "other_ways": gettext_lazy("other ways"),
    "parts": gettext_lazy("parts"),
    "joints": gettext_lazy("joints"),
    "measured_first": gettext_lazy("what is measured first"),
    "measures": gettext_lazy("what is measured"),
    "cautions": gettext_lazy("cautions"),
    "note": gettext_lazy("note"),
    "picture": gettext_lazy("picture"),
}
"""What the fields of an entry are called in a sentence."""

LIES_WORDS = {key: words for _group, ways in LIES for key, words in ways}


def rows(document: Document, list_name: str) -> list[Any]:
    """Return the entries of a list; none of one there isn't."""
    return entries(document, cast(ListName, list_name))


def text(value: Any) -> str:
    """Return what stands in a field, as it was typed."""
    return "" if value is None else str(value)


def face_words(document: Document, face: Any) -> str:
    """Return a face in words, such as `Left side, right face`."""
    part, name = face_parts(face)
    if not part:
        return str(_("no face"))
    return _("%(part)s, %(face)s face") % {
        "part": name_of(document, "parts", part),
        "face": FACES.get(name, name),
    }


def short_face(document: Document, face: Any) -> str:
    """Return a face in fewer words, such as `Left side right`."""
    part, name = face_parts(face)
    return f"{name_of(document, 'parts', part)} {FACES.get(name, name)}"


def between_words(document: Document, start: Any, end: Any) -> str:
    """Return what lies between two faces: `Left side left to Right side right`."""
    part, name = face_parts(start)
    other, other_name = face_parts(end)
    if part and part == other:
        return _("%(part)s, %(start)s to %(end)s") % {
            "part": name_of(document, "parts", part),
            "start": FACES.get(name, name),
            "end": FACES.get(other_name, other_name),
        }
    return _("%(start)s to %(end)s") % {
        "start": short_face(document, start),
        "end": short_face(document, end),
    }


def title_of(document: Document, list_name: str, index: int) -> str:
    """Return what an entry is called."""
    every = rows(document, list_name)
    entry = every[index] if 0 <= index < len(every) else {}
    if list_name == "flush":
        return flush_words(document, entry)
    if list_name == "even":
        return even_words(document, entry)
    if not isinstance(entry, dict):
        return str(_("number %d") % (index + 1))
    name = text(entry.get("title" if list_name == "steps" else "name")).strip()
    if name or list_name != "joints":
        return name or text(entry.get("key"))
    return _("%(guest)s in %(host)s") % {
        end: name_of(document, "parts", face_parts(entry.get(end))[0])
        for end in ("guest", "host")
    }


def flush_words(document: Document, faces: Any) -> str:
    """Return which faces are flush: `Front: Left side, Right side`."""
    ends = [face_parts(face) for face in faces] if isinstance(faces, list) else []
    names = {name for _part, name in ends}
    if len(names) == 1:
        parts = ", ".join(name_of(document, "parts", part) for part, _name in ends)
        return f"{str(FACES.get(name := names.pop(), name)).capitalize()}: {parts}"
    return ", ".join(short_face(document, f"{part}.{name}") for part, name in ends)


def even_words(document: Document, pairs: Any) -> str:
    """Return which spaces are even: `Left side to Divider = Divider to Right side`."""
    return " = ".join(
        _("%(start)s to %(end)s")
        % {
            "start": name_of(document, "parts", face_parts(start)[0]),
            "end": name_of(document, "parts", face_parts(end)[0]),
        }
        for start, end in pairs_of(pairs)
    )


def pairs_of(pairs: Any) -> Iterable[tuple[Any, Any]]:
    """Yield the two faces of each space that can be read."""
    for pair in pairs if isinstance(pairs, list) else ():
        if isinstance(pair, list) and len(pair) == 2:
            yield pair[0], pair[1]


def depth_words(depth: Any) -> str:
    """Return a joint's depth: `3/8 deep` or `1/2 of the thickness deep`."""
    if isinstance(depth, dict):
        share = text(depth.get("of_thickness"))
        return _("%(share)s of the thickness deep") % {"share": share}
    return _("%(depth)s deep") % {"depth": text(depth)} if depth else ""


def joint_words(document: Document, joint: dict[str, Any]) -> str:
    """Return what a joint is: `Dado, 3/8 deep; Shelf, left face in …`."""
    kind = text(joint.get("kind"))
    said = [_(KINDS[kind].title) if kind in KINDS else kind, depth_words_of(joint)]
    stops = joint.get("stops")
    for stop in stops if isinstance(stops, list) else ():
        if isinstance(stop, dict):
            at = text(stop.get("at"))
            said.append(
                _("stops %(by)s short of the %(at)s")
                % {"by": text(stop.get("by")), "at": FACES.get(at, at)}
            )
    if isinstance(joint.get("tenon"), dict):
        said += _tenon_words(joint["tenon"])
    if isinstance(joint.get("dowels"), dict):
        dowels = joint["dowels"]
        said.append(
            _("%(count)s of %(diameter)s × %(length)s")
            % {name: text(dowels.get(name)) for name in ("count", "diameter", "length")}
        )
    ends = _("%(guest)s, to %(host)s") % {
        end: short_face(document, joint.get(end)) for end in ("guest", "host")
    }
    return "; ".join((", ".join(word for word in said if word), ends))


def _tenon_words(tenon: dict[str, Any]) -> list[str]:
    """Return how thick a tenon is, and its shoulders; [] where nothing is said."""
    thickness, shoulder = tenon.get("thickness"), tenon.get("edge_shoulder")
    said = []
    if isinstance(thickness, dict):
        share = text(thickness.get("of_thickness"))
        said.append(_("tenon %(share)s of the thickness") % {"share": share})
    elif thickness:
        said.append(_("tenon %(thickness)s thick") % {"thickness": text(thickness)})
    if shoulder:
        words = _("%(shoulder)s shoulder on each edge")
        said.append(words % {"shoulder": text(shoulder)})
    return said


def depth_words_of(joint: dict[str, Any]) -> str:
    """Return how deep a joint is; "" where it has no depth."""
    return depth_words(joint.get("depth")) if joint.get("depth") else ""


def change_words(
    document: Document, list_name: str, index: int, fields: Sequence[str]
) -> str:
    """Return what was changed: `depth of Shelf in Left side`."""
    title = title_of(document, list_name, index)
    named = list(dict.fromkeys(str(FIELDS.get(name, name)) for name in fields))
    if not named or len(named) > 2:
        return title
    words = _(" and ").join(named)
    return _("%(fields)s of %(entry)s") % {"fields": words, "entry": title}


def keys_of(document: Document, list_name: str) -> dict[str, str]:
    """Return the names of a list's entries by key, in their order."""
    return {
        key: title_of(document, list_name, n)
        for key, (n, _entry) in keyed(document, cast(ListName, list_name)).items()
    }
