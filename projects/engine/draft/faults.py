"""What the strict reader refuses, by entry, and entries mended all the same."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from projects.engine.draft.document import LISTS, Document, ListName, entries
from projects.engine.draft.parts import LYING_FLAT
from projects.engine.draft.records import Fault, Ref
from projects.engine.errors import EngineError
from projects.engine.plan.records import AXES, DIMENSIONS

TIES: tuple[ListName, ...] = ("joints", "distances", "flush", "even")
NO_PARTS = "a plan needs at least one part"
_ENTRY = re.compile(r"([a-z]+)\[([0-9]+)\]\.?(.*)", re.ASCII)


def without_no_parts(errors: list[EngineError]) -> list[EngineError]:
    """Return errors but the one that a stage without parts always has."""
    return [error for error in errors if NO_PARTS not in error.message]


def with_faults(
    document: Document, list_name: ListName, faults: list[Fault]
) -> Iterable[tuple[int, Any, set[str]]]:
    """Yield each entry with the names of its fields that are wrong ("" the entry)."""
    wrong: dict[int, set[str]] = {}
    for fault in faults:
        for ref in fault.at:
            if ref.list_name == list_name:
                name = re.split(r"[.\[]", ref.field)[0]
                wrong.setdefault(ref.index, set()).add(name)
    if any(f.place == "plan" and f.values.get("name") == list_name for f in faults):
        # the list as a whole was refused
        return
    for n, entry in enumerate(entries(document, list_name)):
        bad = wrong.get(n, set())
        if list_name in ("stock", "parts") and (
            not isinstance(entry, dict) or "key" not in entry
        ):
            bad = bad | {"key"}
        yield n, entry, bad


def mended(
    entry: dict[str, Any],
    wrong: set[str],
    default: dict[str, Any],
    others: tuple[str, ...],
) -> dict[str, Any]:
    """Return a copy with only known fields: wrong ones as in `default`, or left out."""
    made = {"key": entry["key"]}
    for name in (*default, *others):
        if name in entry and name not in wrong:
            made[name] = entry[name]
        elif name in default:
            made[name] = default[name]
    return made


def axes_for(part: dict[str, Any]) -> dict[str, str]:
    """Return three axes for a part, keeping those of its own that can be kept."""
    made: dict[str, str] = {}
    for dimension in ("thickness", "length", "width"):
        axis = part.get(dimension)
        if axis in AXES and axis not in made.values():
            made[dimension] = axis
    for dimension in DIMENSIONS:
        free = [axis for axis in AXES if axis not in made.values()]
        usual = LYING_FLAT[dimension]
        if dimension not in made:
            made[dimension] = usual if usual in free else free[0]
    return made


def fault_of(
    document: Document, error: EngineError, index: Mapping[str, list[int]]
) -> Fault:
    """Return an error of the reader as a fault: its place apart from what it says."""
    head, _, message = error.message.partition(": ")
    place = head.format(**error.values)
    if message.startswith("{at}: "):
        place = f"{place}.{error.values['at']}"
        message = message.removeprefix("{at}: ")
    elif message.startswith("[{n}]: "):
        place = f"{place}[{error.values['n']}]"
        message = message.removeprefix("[{n}]: ")
    elif message == "the field {name} is missing":
        name = str(error.values["name"])
        place = name if place == "plan" else f"{place}.{name}"
    found = _ENTRY.fullmatch(place)
    ref = Ref(list_name="head", field=place)
    if found is not None and found[1] in LISTS:
        list_name = found[1]
        n = int(found[2])
        if index.get(list_name):
            n = index[list_name][n]
            place = f"{list_name}[{n}]" + (f".{found[3]}" if found[3] else "")
        entry = entries(document, list_name)[n]
        key = entry.get("key") if isinstance(entry, dict) else None
        ref = Ref(
            list_name=list_name,
            index=n,
            key=key if isinstance(key, str) else "",
            field=found[3],
        )
    left_out = ref.list_name in (*TIES, "steps") or ref.field == "key"
    return Fault(
        message=message, values=error.values, at=(ref,), place=place, left_out=left_out
    )
