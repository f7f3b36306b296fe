"""The steps of a plan: what is done in which order, at which machine."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from typing import Any, Literal, cast

from projects.engine.errors import EngineError, PlanError
from projects.engine.plan import fields as f
from projects.engine.plan.json_text import JsonNumber
from projects.engine.shop.cautions import CAUTIONS
from projects.engine.shop.machines import MACHINES, NO_MACHINE

Stage = Literal[
    "mill",
    "joinery",
    "dry_fit",
    "fitted",
    "shaping",
    "sanding",
    "assembly",
    "finish",
]
STAGES: dict[Stage, str] = {
    "mill": "Milling",
    "joinery": "Joinery",
    "dry_fit": "Dry fit",
    "fitted": "Fitted parts",
    "shaping": "Shaping",
    "sanding": "Sanding",
    "assembly": "Assembly",
    "finish": "Finish",
}
"""The stages in their order, with the name each is shown by."""

STOCK = "stock:"
"""Stands before a stock's key where its thickness is what is measured."""

MAX_NOTE = 2000
MAX_CAUTION = 300
MOST = {
    "other_ways": 10,
    "parts": 200,
    "joints": 600,
    "measured_first": 450,
    "measures": 450,
    "cautions": 20,
}
_PICTURE = re.compile(
    r"[A-Za-z0-9_-][A-Za-z0-9._-]{0,74}\.(?:jpg|jpeg|png|webp)", re.ASCII
)


@dataclass(frozen=True, kw_only=True)
class OtherWay:
    """Say how a step is done at another machine."""

    machine: str
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Step:
    """Hold one step of a plan.

    `joints` are worked on those of their two parts that stand in `parts`; where
    neither does, on both. `measured_first` names distances, and stock as
    `stock:KEY`, that must be logged before; `measures` those logged in this step.
    `cautions` are keys of `shop.cautions` or the author's own words.
    """

    key: str
    title: str
    stage: Stage
    machine: str = NO_MACHINE
    other_ways: tuple[OtherWay, ...] = ()
    parts: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    measured_first: tuple[str, ...] = ()
    measures: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    note: str = ""
    picture: str | None = None


@dataclass(frozen=True, kw_only=True)
class Named:
    """Hold the keys that a step may name."""

    parts: Collection[str]
    joints: Collection[str]
    measurable: Collection[str]

    @classmethod
    def of(
        cls,
        *,
        stock: Iterable[str],
        parts: Collection[str],
        joints: Collection[str],
        distances: Iterable[str],
    ) -> Named:
        """Return the keys of a plan's stock, parts, joints and distances."""
        measurable = {*distances, *(STOCK + key for key in stock)}
        return cls(parts=parts, joints=joints, measurable=measurable)


def read_step(
    value: Any, where: str, named: Named, errors: list[EngineError]
) -> Step | None:
    """Return one entry of `steps`, or None with the reasons in `errors`."""
    entry = f.Fields(value, where, errors)
    before = len(errors)
    key = entry.need("key", f.read_key)
    title = entry.need("title", f.read_text)
    stage = entry.need("stage", lambda v, w: f.read_choice(v, w, STAGES))
    machine = entry.get("machine", _machine)
    other_ways = _other_ways(entry, machine or NO_MACHINE)
    parts = _list(entry, "parts", _one_of(named.parts, "part"))
    joints = _list(entry, "joints", _one_of(named.joints, "joint"))
    measurable = _one_of(named.measurable, "distance or stock")
    measured_first = _list(entry, "measured_first", measurable)
    measures = _list(entry, "measures", measurable)
    for both in sorted({*measured_first} & {*measures}):
        entry.fail("{key} can't be measured both before and in this step", key=both)
    cautions = _list(entry, "cautions", _caution)
    note = entry.get("note", read_note)
    picture = entry.get("picture", read_picture_name)
    entry.done()
    if key is None or len(errors) > before:
        return None
    return Step(
        key=key,
        title=cast(str, title),
        stage=cast(Stage, stage),
        machine=machine or NO_MACHINE,
        other_ways=other_ways,
        parts=parts,
        joints=joints,
        measured_first=measured_first,
        measures=measures,
        cautions=cautions,
        note=note or "",
        picture=picture,
    )


def step_data(step: Step) -> dict[str, Any]:
    """Return a step as an entry of a plan file, without the fields that say nothing.

    What `read_step` makes of it equals `step`.
    """
    ways = [
        {"machine": way.machine, **({"note": way.note} if way.note else {})}
        for way in step.other_ways
    ]
    data: dict[str, Any] = {
        "key": step.key,
        "title": step.title,
        "stage": step.stage,
        "machine": step.machine if step.machine != NO_MACHINE else None,
        "other_ways": ways,
        "parts": list(step.parts),
        "joints": list(step.joints),
        "measured_first": list(step.measured_first),
        "measures": list(step.measures),
        "cautions": list(step.cautions),
        "note": step.note,
        "picture": step.picture,
    }
    return {name: value for name, value in data.items() if value}


def read_note(value: Any, where: str) -> str:
    """Return a text of up to 2000 characters; its line breaks stay."""
    if not isinstance(value, str) or isinstance(value, JsonNumber):
        raise PlanError(
            "{where}: expected a text (read: {read})", where=where, read=f.brief(value)
        )
    lines = [" ".join(line.split()) for line in value.splitlines()]
    text = "\n".join(lines).strip()
    if len(text) > MAX_NOTE:
        raise PlanError(
            "{where}: expected at most {most} characters (read: {count})",
            where=where,
            most=MAX_NOTE,
            count=len(text),
        )
    if any(unicodedata.category(s).startswith("C") for s in text if s != "\n"):
        raise PlanError(
            "{where}: the text holds a sign that can't be printed", where=where
        )
    return text


def read_picture_name(value: Any, where: str) -> str:
    """Return the plain name of a picture file: no folder, a known ending."""
    if (
        isinstance(value, str)
        and not isinstance(value, JsonNumber)
        and _PICTURE.fullmatch(value)
        and ".." not in value
    ):
        return value
    raise PlanError(
        "{where}: expected the plain name of a picture, such as dado.jpg: up to 80 "
        "letters, digits, -, _ and ., ending in .jpg, .jpeg, .png or .webp "
        "(read: {read})",
        where=where,
        read=f.brief(value),
    )


def _machine(value: Any, where: str) -> str:
    return f.read_choice(value, where, MACHINES)


def _caution(value: Any, where: str) -> str:
    """Return the key of a known caution, or the author's own sentence."""
    text = f.read_text(value, where, longest=MAX_CAUTION)
    if f.KEY.fullmatch(text) and text not in CAUTIONS:
        raise PlanError(
            "{where}: there is no caution {read}; a caution of your own is a sentence",
            where=where,
            read=f.brief(value),
        )
    return text


def _one_of(known: Collection[str], what: str) -> Callable[[Any, str], str]:
    def read(value: Any, where: str) -> str:
        if isinstance(value, str) and value in known:
            return str(value)
        raise PlanError(
            "{where}: there is no {what} {read}",
            where=where,
            what=what,
            read=f.brief(value),
        )

    return read


def _list(
    entry: f.Fields, name: str, read: Callable[[Any, str], str]
) -> tuple[str, ...]:
    """Return the entries of a list of texts; one that comes twice is an error."""
    made: dict[str, None] = {}
    for where, value in entry.items(name, at_most=MOST[name]):
        try:
            text = read(value, where)
        except EngineError as error:
            entry.errors.append(error)
            continue
        if text in made:
            entry.errors.append(
                PlanError(
                    "{where}: {text} stands here twice",
                    where=where,
                    text=f.brief(text),
                )
            )
        made[text] = None
    return tuple(made)


def _other_ways(entry: f.Fields, machine: str) -> tuple[OtherWay, ...]:
    ways: dict[str, OtherWay] = {}
    for where, value in entry.items("other_ways", at_most=MOST["other_ways"]):
        way = f.Fields(value, where, entry.errors)
        other = way.need("machine", _machine)
        note = way.get("note", read_note)
        way.done()
        if other is None:
            continue
        if other == machine or other in ways:
            way.fail("the machine {machine} stands here twice", machine=other)
        ways[other] = OtherWay(machine=other, note=note or "")
    return tuple(ways.values())
