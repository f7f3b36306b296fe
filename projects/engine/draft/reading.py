"""Read as much of a document as can be read, and tell the rest by its place.

The strict reader does the reading. Where it refuses, the document is read in
stages: head and stock, then parts, then what ties them. After each stage what was
refused is mended with something plausible or left out, so that one bad field of a
stock doesn't hide what is wrong with a joint, nor keep the piece from being drawn.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from projects.engine.draft.document import (
    KEYED,
    LISTS,
    Document,
    ListName,
    blank,
    entries,
    new_key,
    units_of,
)
from projects.engine.draft.faults import (
    TIES,
    axes_for,
    fault_of,
    mended,
    with_faults,
    without_no_parts,
)
from projects.engine.draft.records import Fault, Ref
from projects.engine.errors import MOST_TOLD, EngineError, ProblemsError
from projects.engine.plan.reader import read_plan
from projects.engine.plan.records import Plan

HEAD = ("format", "version", "title", "units", "tape")
GUESSED_THICKNESS = {"in": "3/4 in", "mm": "19 mm"}
"""What a stock is drawn at while nobody said its thickness."""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """Hold what could be read of a document.

    `guessed` are the parts drawn at a guessed thickness; `index` says for each list
    of the plan which entry of the document each of its entries is.
    """

    plan: Plan | None = None
    faults: tuple[Fault, ...] = ()
    guessed: frozenset[str] = frozenset()
    index: Mapping[str, tuple[int, ...]] = field(default_factory=dict)

    def ref(self, list_name: ListName, n: int, *, name: str = "") -> Ref:
        """Return a pointer to the document's entry behind entry `n` of the plan."""
        key = ""
        if self.plan is not None and list_name in KEYED:
            key = getattr(self.plan, list_name)[n].key
        at = self.index[list_name][n]
        return Ref(list_name=list_name, index=at, key=key, field=name)


def read_loosely(document: Any) -> Reading:
    """Return what can be read of a document; it raises nothing."""
    if not isinstance(document, dict):
        return Reading(faults=_unreadable("a plan is an object {{…}}"))
    try:
        text = json.dumps(document)
    except (TypeError, ValueError, RecursionError):
        return Reading(faults=_unreadable("it can't be written as a plan file"))
    plan, errors = _tried(text)
    if plan is not None:
        every: dict[str, tuple[int, ...]] = {
            name: tuple(range(len(getattr(plan, name)))) for name in LISTS
        }
        return Reading(plan=plan, index=every)
    # from JSON again, so that what follows meets nothing but JSON's own types
    return _Mending(json.loads(text), errors).reading()


def _unreadable(message: str) -> tuple[Fault, ...]:
    at = (Ref(list_name="head"),)
    return (Fault(message=message, values={}, at=at, place="plan"),)


def _told(faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """Return as many as somebody reads, and a count of the rest."""
    rest = len(faults) - MOST_TOLD
    if rest <= 0:
        return faults
    at = (Ref(list_name="head"),)
    more = Fault(message="… and {n} more", values={"n": rest}, at=at, place="plan")
    return (*faults[:MOST_TOLD], more)


def _tried(text: str) -> tuple[Plan | None, list[EngineError]]:
    try:
        return read_plan(text), []
    except ProblemsError as error:
        return None, list(error.every)
    except EngineError as error:
        return None, [error]


class _Mending:
    """Mend a document stage by stage, collecting its faults."""

    def __init__(self, document: Document, errors: list[EngineError]) -> None:
        self.document = document
        self.first = errors
        self.faults: dict[tuple[str, str], Fault] = {}
        self.good: Document = {}
        self.index: dict[str, list[int]] = {}
        self.guessed_stock: set[str] = set()

    def reading(self) -> Reading:
        """Go through the stages."""
        self._head_and_stock()
        self._parts()
        plan = self._ties()
        if not self.faults:
            # nothing a stage reads is wrong: tell what the reader said at first
            self._tell(self.first)
        guessed = {
            part["key"]
            for part in self.good["parts"]
            if part["stock"] in self.guessed_stock
        }
        return Reading(
            plan=plan,
            faults=_told(tuple(self.faults.values())),
            guessed=frozenset(guessed),
            index={name: tuple(at) for name, at in self.index.items()},
        )

    def _tell(
        self, errors: Iterable[EngineError], index: Mapping[str, list[int]] = {}
    ) -> list[Fault]:
        """Note errors as faults; `index` maps places back to the document's."""
        told = [fault_of(self.document, error, index) for error in errors]
        for fault in told:
            self.faults.setdefault((fault.place, fault.text), fault)
        return told

    def _head_and_stock(self) -> None:
        part = {k: v for k, v in self.document.items() if k in (*HEAD, "stock")}
        faults = self._tell(without_no_parts(_tried(json.dumps(part))[1]))
        bad = {fault.place for fault in faults}
        head = blank("Plan", units=units_of(self.document))
        for name in ("title", "units", "tape"):
            if name in self.document and name not in bad:
                head[name] = self.document[name]
        self.good = head
        thickness = GUESSED_THICKNESS[head["units"]]
        for n, entry, wrong in with_faults(self.document, "stock", faults):
            if "key" in wrong:
                continue
            default = {"name": entry["key"], "kind": "solid", "thickness": thickness}
            made = mended(entry, wrong, default, ("species",)) if wrong else entry
            self._keep("stock", n, made)
            if "thickness" in wrong:
                self.guessed_stock.add(entry["key"])

    def _parts(self) -> None:
        stage: Document = {**self.good, "parts": self.document.get("parts", [])}
        faults = self._tell(_tried(json.dumps(stage))[1])
        for n, entry, wrong in with_faults(self.document, "parts", faults):
            if "key" in wrong:
                continue
            made = dict(entry)
            if wrong:
                stock = self._stand_in() if "stock" in wrong else ""
                default = {"name": entry["key"], "stock": stock}
                made = mended(entry, wrong, default, ("pair", "count", "round_over"))
                made |= axes_for(entry)
            self._keep("parts", n, made)

    def _stand_in(self) -> str:
        """Return a stock for parts that have none."""
        name = "Stock not chosen"
        key = new_key(self.document, "stock", name)
        if key not in self.guessed_stock:
            thickness = GUESSED_THICKNESS[self.good["units"]]
            entry = {"key": key, "name": name, "kind": "solid", "thickness": thickness}
            self._keep("stock", len(entries(self.document, "stock")), entry)
            self.guessed_stock.add(key)
        return key

    def _ties(self) -> Plan | None:
        ties: Document = {name: self.document.get(name, []) for name in TIES}
        stage: Document = {**self._extra(), **self.good, **ties}
        told = without_no_parts(_tried(json.dumps(stage))[1])
        faults = self._tell(told, {"parts": self.index.get("parts", [])})
        unpaired = {f.at[0].index for f in faults if f.place.endswith(".pair")}
        for n, part in zip(
            self.index.get("parts", []), self.good["parts"], strict=True
        ):
            if n in unpaired:
                part.pop("pair", None)
        too_many = any("flush and even together" in fault.message for fault in faults)
        for name in TIES:
            if too_many and name in ("flush", "even"):
                continue
            for n, entry, wrong in with_faults(self.document, name, faults):
                if not wrong:
                    self._keep(name, n, entry)
        return self._steps() if self.good["parts"] else None

    def _steps(self) -> Plan | None:
        steps = self.document.get("steps", [])
        stage: Document = {**self._extra(), **self.good, "steps": steps}
        faults = self._tell(_tried(json.dumps(stage))[1])
        for n, entry, wrong in with_faults(self.document, "steps", faults):
            if not wrong:
                self._keep("steps", n, entry)
        plan, _ = _tried(json.dumps({**self._extra(), **self.good}))
        return plan or _tried(json.dumps(self.good))[0]

    def _extra(self) -> Document:
        """Return what the plan holds besides its lists of entries."""
        known = (*HEAD, *LISTS)
        return {k: v for k, v in self.document.items() if k not in known}

    def _keep(self, name: str, n: int, entry: Any) -> None:
        self.good[name].append(entry)
        self.index.setdefault(name, []).append(n)
