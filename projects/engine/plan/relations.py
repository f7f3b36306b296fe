"""Read the entries of a plan that relate faces to each other."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from projects.engine.errors import EngineError
from projects.engine.joints import KINDS
from projects.engine.plan import fields as f
from projects.engine.plan.records import (
    Depth,
    Distance,
    Even,
    Face,
    Flush,
    Joint,
    Part,
)
from projects.engine.units.length import UnitSystem

Errors = list[EngineError]
Parts = Mapping[str, Part]
MOST_FACES = 200


def read_joint(
    value: Any, where: str, units: UnitSystem, parts: Parts, errors: Errors
) -> Joint | None:
    """Return one entry of `joints`, or None with the reasons in `errors`."""
    entry = f.Fields(value, where, errors)
    before = len(errors)
    key = entry.need("key", f.read_key)
    name = entry.get("name", f.read_text) or ""
    kind_key = entry.need("kind", lambda v, w: f.read_choice(v, w, KINDS))
    guest = entry.need("guest", lambda v, w: f.read_face(v, w, parts))
    host = entry.need("host", lambda v, w: f.read_face(v, w, parts))
    clearance = entry.get("clearance", lambda v, w: f.read_any_length(v, w, units))
    if kind_key is None:
        # which other fields are known depends on the kind
        return None
    kind = KINDS[kind_key]
    depth = _depth(entry, kind_key, units)
    details = kind.read(entry, units)
    entry.done()
    if guest and host:
        _check_faces(entry, guest, host)
    if key is None or guest is None or host is None or len(errors) > before:
        return None
    joint = Joint(
        key=key,
        name=name,
        kind=kind_key,
        guest=guest,
        host=host,
        depth=depth,
        clearance=clearance,
        details=details,
    )
    for fault in kind.check(joint, parts[guest.part], parts[host.part]):
        entry.fail("{fault}", fault=fault)
    return joint


def _depth(entry: f.Fields, kind_key: str, units: UnitSystem) -> Depth:
    kind = KINDS[kind_key]
    if kind.depth == "none":
        # not asked for, so that a depth given here is refused below
        if "depth" in entry.data:
            entry.asked.append("depth")
            entry.fail("a {kind} joint has no depth", kind=kind_key)
        return kind.default_depth
    ask = entry.need if kind.depth == "needed" else entry.get
    return ask("depth", lambda v, w: f.read_depth(v, w, units)) or kind.default_depth


def _check_faces(entry: f.Fields, guest: Face, host: Face) -> None:
    if guest.part == host.part:
        entry.fail(
            "guest and host must be two parts (read: {part} twice)", part=guest.part
        )
    elif guest.name != host.opposite:
        entry.fail(
            "the faces must look at each other: {host} needs a guest's "
            "{wanted} face (read: {guest})",
            host=host,
            wanted=host.opposite,
            guest=guest,
        )


def read_distance(
    value: Any, where: str, units: UnitSystem, parts: Parts, errors: Errors
) -> Distance | None:
    """Return one entry of `distances`, or None with the reasons in `errors`."""
    entry = f.Fields(value, where, errors)
    key = entry.need("key", f.read_key)
    name = entry.get("name", f.read_text)
    start = entry.need("from", lambda v, w: f.read_face(v, w, parts))
    end = entry.need("to", lambda v, w: f.read_face(v, w, parts))
    wanted = entry.get("value", lambda v, w: f.read_any_length(v, w, units))
    held = entry.get("held", lambda v, w: f.read_whole(v, w, at_most=1000))
    measure = entry.get("measure", lambda v, w: f.read_choice(v, w, ("dry_fit",)))
    fits = _fits(entry, parts)
    entry.done()
    if held is not None and "value" not in entry.data:
        entry.fail("held ranks a wanted value, and there is no value")
    if fits and measure is None:
        entry.fail('fits needs "measure": "dry_fit"')
    if start and end and (start.axis != end.axis or start == end):
        entry.fail(
            "from and to must be two faces on one axis (read: {a} and {b})",
            a=start,
            b=end,
        )
    if key is None or start is None or end is None:
        return None
    return Distance(
        key=key,
        name=name or key,
        start=start,
        end=end,
        value=wanted,
        held=held,
        dry_fit=measure is not None,
        fits=fits,
    )


def _fits(entry: f.Fields, parts: Parts) -> tuple[str, ...]:
    fits: list[str] = []
    for where, value in entry.items("fits", at_most=MOST_FACES):
        if not isinstance(value, str) or value not in parts:
            entry.fail(
                "{at}: there is no part {read}",
                at=where.split(".")[-1],
                read=f.brief(value),
            )
        else:
            fits.append(value)
    return tuple(fits)


def read_flush(value: Any, where: str, parts: Parts, errors: Errors) -> Flush:
    """Return one list of faces that share a position."""
    entry = f.Fields({"faces": value}, where, errors)
    faces = _faces(value, where, parts, errors)
    if len({face.axis for face in faces}) > 1:
        entry.fail(
            "flush faces must all lie across one axis (read: {faces})",
            faces=", ".join(map(str, faces)),
        )
    if len(set(faces)) < len(faces):
        entry.fail("a face stands here twice")
    return tuple(faces)


def read_even(value: Any, where: str, parts: Parts, errors: Errors) -> Even:
    """Return one list of pairs of faces that are equally far apart."""
    entry = f.Fields({"pairs": value}, where, errors)
    if not isinstance(value, list) or not 2 <= len(value) <= MOST_FACES:
        entry.fail(
            "expected a list of two or more pairs of faces (read: {read})",
            read=f.brief(value),
        )
        return ()
    pairs: list[tuple[Face, Face]] = []
    for n, couple in enumerate(value):
        at = f"{where}[{n}]"
        faces = _faces(couple, at, parts, errors)
        if len(faces) == 2 and faces[0].axis == faces[1].axis and faces[0] != faces[1]:
            pairs.append((faces[0], faces[1]))
        elif isinstance(couple, list) and len(faces) == len(couple):
            entry.fail(
                "[{n}]: expected two faces on one axis (read: {faces})",
                n=n,
                faces=", ".join(map(str, faces)),
            )
    return tuple(pairs)


def _faces(value: Any, where: str, parts: Parts, errors: Errors) -> list[Face]:
    entry = f.Fields({}, where, errors)
    if not isinstance(value, list) or not 2 <= len(value) <= MOST_FACES:
        entry.fail(
            "expected a list of two or more faces (read: {read})", read=f.brief(value)
        )
        return []
    read: list[Face] = []
    for n, text in enumerate(value):
        try:
            read.append(f.read_face(text, f"{where}[{n}]", parts))
        except EngineError as error:
            errors.append(error)
    return read
