"""The pick lists of a draft's forms."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from projects.engine.draft import Document, faces_facing
from projects.engine.draft.document import entries, face_parts, keyed
from projects.engine.draft.ties import opposite
from projects.engine.errors import EngineError
from projects.engine.joints import KINDS
from projects.engine.plan.records import FACES
from projects.engine.units.show import TAPES
from projects.present import draft_words as w
from projects.present.draft_steps import step_choices

Options = tuple[tuple[str, str], ...]

SHARES = (
    ("length", gettext_lazy("a length")),
    ("share", gettext_lazy("a share of the thickness")),
)


def choices_of(
    document: Document, list_name: str, values: Mapping[str, Any], key: str
) -> dict[str, Any]:
    """Return the pick lists of a form."""
    parts: Options = tuple(w.keys_of(document, "parts").items())
    faces: Options = tuple((name, str(words)) for name, words in w.FACES.items())
    made: dict[str, Any] = {"parts": parts, "faces": faces}
    if list_name == "head":
        made["tapes"] = [str(tape) for tape in TAPES]
    elif list_name == "stock":
        made["kinds"] = w.STOCK_KINDS.items()
    elif list_name == "parts":
        made["stock"] = tuple(w.keys_of(document, "stock").items())
        made["lies"] = w.LIES
        partners = keyed(document, "parts")
        made["partners"] = tuple(
            (other, words)
            for other, words in parts
            if other != key and not partners[other][1].get("pair")
        )
    elif list_name == "joints":
        made["kinds"] = [(kind.key, _(kind.title)) for kind in KINDS.values()]
        made["hosts"] = _hosts(document, values) or parts
        made["as"] = SHARES
        made["stop_faces"] = _stop_faces(document, values) or faces
    elif list_name in ("distances", "flush"):
        made["to_parts"] = parts
        made["to_faces"] = _on_axis(values.get("from_face")) or faces
        if list_name == "flush" and key != "new":
            made["to_faces"] = _on_axis(_first_face(document, key)) or faces
    elif list_name == "even":
        made["to_faces_1"] = _on_axis(values.get("from1_face")) or faces
        made["to_faces_2"] = _on_axis(values.get("from2_face")) or faces
    elif list_name == "steps":
        made |= step_choices(document, values, key)
    return made


def _hosts(document: Document, values: Mapping[str, Any]) -> Options:
    """Return the parts a guest can go into, with the face it meets there."""
    guest = f"{values.get('guest_part', '')}.{values.get('guest_face', '')}"
    try:
        choices = faces_facing(document, guest)
    except EngineError:
        # no guest is chosen yet
        return ()
    return tuple(
        (choice.part, choice.words + (_(" (joined)") if choice.joined else ""))
        for choice in choices
    )


def _stop_faces(document: Document, values: Mapping[str, Any]) -> Options:
    """Return the faces that a slot between two faces runs to."""
    face = w.text(values.get("guest_face"))
    if face not in FACES:
        return ()
    guest = keyed(document, "parts").get(w.text(values.get("guest_part")))
    across = {FACES[face][0], guest[1].get("thickness") if guest else ""}
    return tuple(
        (name, str(w.FACES[name]))
        for name, (axis, _high) in FACES.items()
        if axis not in across
    )


def _on_axis(face: Any) -> Options:
    """Return the two faces on a face's axis, the one that looks at it first."""
    name = w.text(face)
    other = opposite(name)
    if not other:
        return ()
    return ((other, str(w.FACES[other])), (name, str(w.FACES[name])))


def _first_face(document: Document, key: str) -> str:
    every = entries(document, "flush")
    n = int(key) if key.isdecimal() and len(key) < 6 else -1
    faces = every[n] if 0 <= n < len(every) else ()
    return face_parts(faces[0])[1] if isinstance(faces, list) and faces else ""
