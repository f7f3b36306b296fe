"""What the form of a draft's step sends, read into operations on its document."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from django.http import QueryDict
from django.utils.translation import gettext as _

from projects.draft_forms import Entry, FormError, need, text_in
from projects.drafting import Operation
from projects.engine import draft as engine
from projects.engine.draft import Document
from projects.engine.draft.document import entries, with_list
from projects.engine.errors import EngineError
from projects.engine.plan.steps import MOST, step_data
from projects.engine.shop.machines import NO_MACHINE
from projects.engine.steps import propose
from projects.present.draft_page import look_at
from projects.present.draft_steps import CHOSEN

LONGEST_TEXT = 8000
MOST_KEYS = 1000


def save_step(entry: Entry, data: QueryDict) -> Operation:
    """Return the operation that adds a step or changes it as its form says."""
    fields: dict[str, Any] = need(
        data,
        title=_("Give the step a title, such as Cut the dadoes."),
        stage=_("Choose the stage it belongs to."),
    )
    machine = text_in(data, "machine")
    fields["machine"] = None if machine == NO_MACHINE else machine
    fields["other_ways"] = _other_ways(data)
    fields["note"] = _long_text(data, "note")
    unpictured = data.get("op") == "save:unpictured"
    fields["picture"] = None if unpictured else text_in(data, "picture")
    lists = {name: data.getlist(name)[:MOST_KEYS] for name in CHOSEN}
    lists["cautions"] = _cautions(data)

    def operation(document: Document) -> Document:
        held: Mapping[str, Any] = {}
        if not entry.is_new:
            held = entries(document, "steps")[entry.index_in(document)]
        kept: dict[str, Any] = {
            name: in_order(held.get(name), keys) for name, keys in lists.items()
        }
        if entry.is_new:
            return engine.add_step(document, **fields, **kept)
        return engine.change_step(document, entry.key, **fields, **kept)

    return operation


def propose_steps(document: Document) -> Document:
    """Return the document with the steps its joints suggest, and no others.

    Raises `EngineError` where too little of the plan can be read.
    """
    # the look at this very text is kept, as the page shows it
    plan = look_at(json.dumps(document, separators=(",", ":"))).plan
    if plan is None or not plan.parts:
        raise EngineError("steps can be proposed once the plan has parts")
    return with_list(document, "steps", [step_data(step) for step in propose(plan)])


def in_order(held: Any, chosen: Sequence[str]) -> list[str]:
    """Return what is chosen, in the order it was held; what is new comes last."""
    before = [text for text in held if text in chosen] if isinstance(held, list) else []
    return list(dict.fromkeys([*before, *chosen]))


def _other_ways(data: QueryDict) -> list[dict[str, str]]:
    ways = []
    for n in range(MOST["other_ways"]):
        machine, note = text_in(data, f"way_machine_{n}"), _long_text(data, f"way_{n}")
        if note and not machine:
            raise FormError({"other_ways": _("Choose the machine of this other way.")})
        if machine:
            ways.append({"machine": machine, **({"note": note} if note else {})})
    return ways


def _cautions(data: QueryDict) -> list[str]:
    """Return the cautions kept by key, then those in somebody's own words."""
    own = _long_text(data, "own_cautions").splitlines()
    lines = [" ".join(line.split()) for line in own]
    return [*data.getlist("known_cautions")[:MOST_KEYS], *filter(None, lines)]


def _long_text(data: QueryDict, name: str) -> str:
    return "\n".join(data.get(name, "")[:LONGEST_TEXT].splitlines()).strip()
