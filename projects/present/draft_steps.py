"""The steps of a draft: one line each, what their form offers, and their order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from projects.engine.draft import Document
from projects.engine.draft.document import name_of
from projects.engine.draft.records import Look
from projects.engine.errors import PlanError
from projects.engine.plan.steps import (
    MAX_NOTE,
    MOST,
    STAGES,
    STOCK,
    read_picture_name,
)
from projects.engine.shop.cautions import CAUTIONS
from projects.engine.shop.machines import MACHINES, NO_MACHINE
from projects.present import draft_words as w
from projects.present.steps import FaultLine, fault_lines

CHOSEN = {
    "parts": gettext_lazy("Parts it works on"),
    "joints": gettext_lazy("Joints it cuts or closes"),
    "measured_first": gettext_lazy("Measured before it"),
    "measures": gettext_lazy("Measured in it"),
}
"""The lists of a step that are ticked, with what each is called."""

SHOWN = 3
"""How many faults of the order are in view: steps half written have one a part."""


@dataclass(frozen=True, kw_only=True)
class Ticks:
    """One list to tick: each entry with its key, its words, whether it is ticked."""

    name: str
    words: str
    entries: tuple[tuple[str, str, bool], ...]

    @property
    def ticked(self) -> int:
        """How many are ticked."""
        return sum(ticked for _key, _words, ticked in self.entries)


@dataclass(frozen=True, kw_only=True)
class Steps:
    """What stands above a draft's steps; `more` are the faults folded away."""

    can_propose: bool
    faults: tuple[FaultLine, ...]
    more: tuple[FaultLine, ...] = ()


def steps_of(look: Look) -> Steps:
    """Return what is impossible about the order of the steps that can be read."""
    plan = look.plan
    if plan is None or not plan.parts:
        return Steps(can_propose=False, faults=())
    faults = fault_lines(plan, plan.steps) if plan.steps else ()
    return Steps(can_propose=True, faults=faults[:SHOWN], more=faults[SHOWN:])


def step_words(document: Document, step: Mapping[str, Any]) -> str:
    """Return what a step's line says: `Joinery; Table saw; Left side, Right side`."""
    stage, machine = w.text(step.get("stage")), w.text(step.get("machine"))
    said = [_(STAGES[stage]) if stage in STAGES else stage, machine_words(machine)]
    parts = [name_of(document, "parts", key) for key in _texts(step.get("parts"))]
    if len(parts) > 4:
        parts = [*parts[:3], _("%(n)d more") % {"n": len(parts) - 3}]
    said.append(", ".join(parts))
    if step.get("picture"):
        said.append(_("with a picture"))
    return "; ".join(word for word in said if word)


def machine_words(key: str) -> str:
    """Return what a machine is called; one that is unknown by its key."""
    kind = MACHINES.get(key or NO_MACHINE)
    return str(_(kind.name)) if kind else key


def step_values(step: Mapping[str, Any]) -> dict[str, Any]:
    """Return what stands in the fields of a step's form."""
    values = {**step, "machine": step.get("machine") or NO_MACHINE}
    ways = step.get("other_ways")
    for n, way in enumerate(ways if isinstance(ways, list) else ()):
        if isinstance(way, dict):
            values |= {
                f"way_machine_{n}": way.get("machine"),
                f"way_{n}": way.get("note"),
            }
    held = _texts(step.get("cautions"))
    values["known_cautions"] = [text for text in held if text in CAUTIONS]
    values["own_cautions"] = "\n".join(text for text in held if text not in CAUTIONS)
    return values


def new_values(document: Document) -> dict[str, Any]:
    """Return what a new step begins with: the stage of the last one."""
    steps = w.rows(document, "steps")
    last = steps[-1] if steps else None
    stage = last.get("stage") if isinstance(last, dict) else None
    return {"stage": stage, "machine": NO_MACHINE}


def step_choices(
    document: Document, values: Mapping[str, Any], key: str
) -> dict[str, Any]:
    """Return what a step's form offers."""
    measured = w.keys_of(document, "distances") | {
        STOCK + stock: _("Thickness of %(stock)s") % {"stock": name}
        for stock, name in w.keys_of(document, "stock").items()
    }
    offered = {
        "parts": w.keys_of(document, "parts"),
        "joints": w.keys_of(document, "joints"),
        "measured_first": measured,
        "measures": measured,
    }
    return {
        "stages": [(stage, _(words)) for stage, words in STAGES.items()],
        "machines": [(one, machine_words(one)) for one in MACHINES],
        "ticks": [
            _ticks(name, str(words), offered[name], values.get(name))
            for name, words in CHOSEN.items()
        ],
        "cautions": _cautions(document, values, key),
        "ways": _ways(values),
        "picture": _picture(values.get("picture")),
        "longest_note": MAX_NOTE,
    }


def _ticks(name: str, words: str, offered: Mapping[str, str], held: Any) -> Ticks:
    ticked = _texts(held)
    # a key of nothing there is stays in view, so that it can be unticked
    every = {**offered, **{key: key for key in ticked if key not in offered}}
    entries = tuple((key, said, key in ticked) for key, said in every.items())
    return Ticks(name=name, words=words, entries=entries)


def _cautions(document: Document, values: Mapping[str, Any], key: str) -> Ticks:
    """Return the known cautions that the step has, with those just unticked."""
    ticked = _texts(values.get("known_cautions"))
    rows = w.rows(document, "steps")
    steps = [row for row in rows if isinstance(row, dict) and row.get("key") == key]
    held = _texts(steps[0].get("cautions")) if steps else []
    offered = {c: CAUTIONS[c].text for c in (*held, *ticked) if c in CAUTIONS}
    return _ticks("known_cautions", _("Cautions kept"), offered, ticked)


def _ways(values: Mapping[str, Any]) -> list[tuple[int, str, str]]:
    """Return the rows for other ways: those filled in, and one more to fill."""
    every = [
        (n, w.text(values.get(f"way_machine_{n}")), w.text(values.get(f"way_{n}")))
        for n in range(MOST["other_ways"])
    ]
    filled = max((n + 1 for n, *said in every if any(said)), default=0)
    return every[: filled + 1]


def _picture(name: Any) -> str:
    """Return a picture's name where it can be one, "" otherwise."""
    try:
        return read_picture_name(name, "picture") if name else ""
    except PlanError:
        # the look at the draft tells what is wrong with it
        return ""


def _texts(value: Any) -> list[str]:
    """Return the texts of a list; of a damaged one what can be read."""
    every: Iterable[Any] = value if isinstance(value, list) else ()
    return [text for text in every if isinstance(text, str)]
