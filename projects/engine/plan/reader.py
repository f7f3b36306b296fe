"""Read a plan file into a `Plan`, or tell everything that is wrong with it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from typing import Any, cast

from projects.engine.errors import EngineError, PlanError, raise_all
from projects.engine.plan import fields as f
from projects.engine.plan.json_text import JsonNumber, parse
from projects.engine.plan.records import (
    AXES,
    DIMENSIONS,
    Axis,
    Dimension,
    Part,
    Plan,
    Stock,
)
from projects.engine.plan.relations import (
    read_distance,
    read_even,
    read_flush,
    read_joint,
)
from projects.engine.plan.steps import Named, read_step
from projects.engine.units.length import UnitSystem
from projects.engine.units.show import TAPES

FORMAT, VERSION = "shopclass-plan", "1"
STOCK_KINDS = ("solid", "plywood", "mdf", "sheet")
MOST = {
    "stock": 50,
    "parts": 200,
    "joints": 600,
    "distances": 400,
    "flush": 400,
    "even": 100,
    "faces": 2000,
    "steps": 200,
}
"""How many entries each list may have: enough for any class piece, and few enough
that a hostile file can't keep the server busy."""


def read_plan(data: str | bytes) -> Plan:
    """Return the plan in `data`, a JSON text.

    Raises `PlanError` where it is not JSON, or `ProblemsError` with every fault found,
    each naming its place, such as `joints[2].host`.
    """
    raw = data if isinstance(data, bytes) else data.encode(errors="replace")
    value = parse(data, what="plan")
    errors: list[EngineError] = []
    top = f.Fields(value, "plan", errors)
    _check_format(top)
    title = top.need("title", f.read_text)
    units = cast(UnitSystem, top.need("units", _units) or "in")
    tape = top.get("tape", _tape) or 16
    stock = _read_all(top, "stock", lambda v, w: _stock(v, w, units, errors))
    # what follows names these, so its complaints would only repeat theirs
    raise_all(errors)
    parts = _read_all(top, "parts", lambda v, w: _part(v, w, units, stock, errors))
    raise_all(errors)
    _check_pairs(parts, errors)
    joints = _read_all(
        top, "joints", lambda v, w: read_joint(v, w, units, parts, errors)
    )
    distances = _read_all(
        top, "distances", lambda v, w: read_distance(v, w, units, parts, errors)
    )
    flush = [
        read_flush(v, w, parts, errors)
        for w, v in top.items("flush", at_most=MOST["flush"])
    ]
    even = [
        read_even(v, w, parts, errors)
        for w, v in top.items("even", at_most=MOST["even"])
    ]
    # read last, once all that a step may name is known
    top.asked.append("steps")
    top.done()
    faces = sum(map(len, flush)) + 2 * sum(map(len, even))
    if faces > MOST["faces"]:
        top.fail(
            "flush and even together can name at most {most} faces (read: {n})",
            most=MOST["faces"],
            n=faces,
        )
    if not parts and not errors:
        top.fail("a plan needs at least one part")
    raise_all(errors)
    named = Named.of(stock=stock, parts=parts, joints=joints, distances=distances)
    steps = _read_all(top, "steps", lambda v, w: read_step(v, w, named, errors))
    raise_all(errors)
    return Plan(
        title=cast(str, title),
        units=units,
        tape=tape,
        stock=tuple(stock.values()),
        parts=tuple(parts.values()),
        joints=tuple(joints.values()),
        distances=tuple(distances.values()),
        flush=tuple(flush),
        even=tuple(even),
        digest=hashlib.sha256(raw).hexdigest(),
        steps=tuple(steps.values()),
    )


def _check_format(top: f.Fields) -> None:
    top.need("format", lambda v, w: f.read_choice(v, w, (FORMAT,)))
    top.need("version", _version)


def _version(value: Any, where: str) -> str:
    if isinstance(value, JsonNumber) and value == VERSION:
        return VERSION
    raise PlanError(
        "{where}: only version 1 is known (read: {read})",
        where=where,
        read=f.brief(value),
    )


def _units(value: Any, where: str) -> str:
    return f.read_choice(value, where, ("in", "mm"))


def _tape(value: Any, where: str) -> int:
    if isinstance(value, JsonNumber) and value in map(str, TAPES):
        return int(value)
    raise PlanError(
        "{where}: a tape has 8, 16, 32 or 64 marks an inch (read: {read})",
        where=where,
        read=f.brief(value),
    )


def _read_all(top: f.Fields, name: str, read: Any) -> dict[str, Any]:
    """Return the entries of one list by key; a key that comes twice is an error."""
    made: dict[str, Any] = {}
    for where, value in top.items(name, at_most=MOST[name]):
        entry = read(value, where)
        if entry is None:
            continue
        if entry.key in made:
            top.errors.append(
                PlanError(
                    "{where}.key: {key} is already used in {name}",
                    where=where,
                    key=entry.key,
                    name=name,
                )
            )
        made[entry.key] = entry
    return made


def _stock(
    value: Any, where: str, units: UnitSystem, errors: list[EngineError]
) -> Stock | None:
    entry = f.Fields(value, where, errors)
    key = entry.need("key", f.read_key)
    name = entry.need("name", f.read_text)
    kind = entry.need("kind", lambda v, w: f.read_choice(v, w, STOCK_KINDS))
    species = entry.get("species", f.read_text) or ""
    thickness = entry.need("thickness", lambda v, w: f.read_any_length(v, w, units))
    entry.done()
    if key is None or thickness is None:
        return None
    return Stock(
        key=key,
        name=name or key,
        kind=kind or "solid",
        species=species,
        thickness=thickness,
    )


def _part(
    value: Any,
    where: str,
    units: UnitSystem,
    stock: Mapping[str, Stock],
    errors: list[EngineError],
) -> Part | None:
    entry = f.Fields(value, where, errors)
    key = entry.need("key", f.read_key)
    name = entry.need("name", f.read_text)
    of = entry.need("stock", lambda v, w: _known(v, w, stock, "stock"))
    axes = {
        dimension: entry.need(dimension, lambda v, w: f.read_choice(v, w, AXES))
        for dimension in DIMENSIONS
    }
    pair = entry.get("pair", f.read_key)
    count = entry.get("count", lambda v, w: f.read_whole(v, w, at_most=200))
    round_over = entry.get("round_over", lambda v, w: f.read_any_length(v, w, units))
    entry.done()
    if None in axes.values():
        return None
    if len(set(axes.values())) < 3:
        entry.fail("length, width and thickness must lie on three different axes")
        return None
    if key is None:
        return None
    return Part(
        key=key,
        name=name or key,
        stock=of or "",
        axes=cast(dict[Dimension, Axis], axes),
        pair=pair,
        count=count or 1,
        round_over=round_over,
    )


def _known(value: Any, where: str, known: Iterable[str], what: str) -> str:
    if isinstance(value, str) and value in known:
        return value
    raise PlanError(
        "{where}: there is no {what} {read}",
        where=where,
        what=what,
        read=f.brief(value),
    )


def _check_pairs(parts: Mapping[str, Part], errors: list[EngineError]) -> None:
    for n, part in enumerate(parts.values()):
        if part.pair is None:
            continue
        other = parts.get(part.pair)
        if other is None or other is part or other.pair != part.key:
            errors.append(
                PlanError(
                    "parts[{n}].pair: the two parts of a pair must name each other "
                    "(read: {read})",
                    n=n,
                    read=part.pair,
                )
            )
