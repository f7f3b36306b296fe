"""Read one JSON object's fields by name; collect every error with its place."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Collection
from fractions import Fraction
from typing import Any, TypeVar

from projects.engine.errors import EngineError, LengthError, PlanError, raise_all
from projects.engine.plan.json_text import JsonNumber, JsonObject
from projects.engine.plan.records import FACES, Depth, Face
from projects.engine.units import Length, read_length, read_number
from projects.engine.units.length import UnitSystem

T = TypeVar("T")
KEY = re.compile(r"[a-z][a-z0-9_]*", re.ASCII)
MAX_KEY = 40
MAX_NAME = 80
_SHARE = re.compile(r"([0-9]{1,4})(?:/([0-9]{1,4}))?|0?\.[0-9]{1,4}", re.ASCII)


def read_text(value: Any, where: str, *, longest: int = MAX_NAME) -> str:
    """Return a short line of printable text."""
    if not isinstance(value, str) or isinstance(value, JsonNumber):
        raise PlanError(
            "{where}: expected a text (read: {read})", where=where, read=brief(value)
        )
    text = " ".join(value.split())
    if not text or len(text) > longest:
        raise PlanError(
            "{where}: expected 1 to {longest} characters (read: {read})",
            where=where,
            longest=longest,
            read=brief(value),
        )
    # control, unassigned, private and lone surrogate code points
    if any(unicodedata.category(sign).startswith("C") for sign in text):
        raise PlanError(
            "{where}: the text holds a sign that can't be printed", where=where
        )
    return text


def read_key(value: Any, where: str) -> str:
    """Return a key: lower-case letters, digits and _, starting with a letter."""
    if isinstance(value, str) and KEY.fullmatch(value) and len(value) <= MAX_KEY:
        return value
    raise PlanError(
        "{where}: a key is up to 40 lower-case letters, digits and _, "
        "starting with a letter (read: {read})",
        where=where,
        read=brief(value),
    )


def read_any_length(value: Any, where: str, unit: UnitSystem) -> Length:
    """Return a length given as a text or as a bare number in `unit`."""
    if isinstance(value, JsonNumber):
        return read_number(value, unit=unit, field=where)
    if isinstance(value, str):
        return read_length(value, unit=unit, field=where)
    raise LengthError(
        '{where}: expected a length such as "3/4" (read: {read})',
        where=where,
        read=brief(value),
    )


def read_share(value: Any, where: str) -> Fraction:
    """Return a share [-] above 0 and at most 1, such as `"1/2"` or `0.5`."""
    if isinstance(value, str) and _SHARE.fullmatch(value.strip()):
        text = value.strip()
        if not text.endswith(("/0", "/00", "/000", "/0000")):
            share = Fraction(text)
            if 0 < share <= 1:
                return share
    raise PlanError(
        '{where}: expected a share above 0 and at most 1, such as "1/2" (read: {read})',
        where=where,
        read=brief(value),
    )


def read_whole(value: Any, where: str, *, at_most: int) -> int:
    """Return a whole number from 1 to `at_most`, written as a JSON number."""
    if isinstance(value, JsonNumber) and re.fullmatch(r"[0-9]{1,6}", value):
        number = int(value)
        if 1 <= number <= at_most:
            return number
    raise PlanError(
        "{where}: expected a whole number from 1 to {at_most} (read: {read})",
        where=where,
        at_most=at_most,
        read=brief(value),
    )


def read_choice(value: Any, where: str, choices: Collection[str]) -> str:
    """Return `value` where it is one of `choices`."""
    if isinstance(value, str) and value in choices:
        return str(value)
    raise PlanError(
        "{where}: expected one of {choices} (read: {read})",
        where=where,
        choices=", ".join(choices),
        read=brief(value),
    )


def read_face(value: Any, where: str, parts: Collection[str]) -> Face:
    """Return a face written `part.face` of one of `parts`."""
    if not isinstance(value, str) or value.count(".") != 1:
        raise PlanError(
            "{where}: expected part.face, such as shelf.left (read: {read})",
            where=where,
            read=brief(value),
        )
    part, name = value.split(".")
    if part not in parts:
        raise PlanError(
            "{where}: there is no part {part} (read: {read})",
            where=where,
            part=brief(part),
            read=brief(value),
        )
    if name not in FACES:
        raise PlanError(
            "{where}: a face is one of {faces} (read: {read})",
            where=where,
            faces=", ".join(FACES),
            read=brief(value),
        )
    return Face(part=part, name=name)


def brief(value: Any) -> str:
    """Return what was read, short enough for one line of an error."""
    if isinstance(value, JsonNumber):
        text = str.__str__(value)
    elif isinstance(value, dict):
        text = "an object {…}"
    elif isinstance(value, list):
        text = "a list […]"
    else:
        text = {None: "null", True: "true", False: "false"}.get(value) or repr(value)
    return text if len(text) <= 48 else text[:47] + "…"


class Fields:
    """Read one object field by field; `where` is its place, such as `parts[2]`.

    Errors are appended to `errors` rather than raised, so that a reader learns of
    all of them at once. `done` refuses every field that nobody asked for.
    """

    def __init__(self, value: Any, where: str, errors: list[EngineError]) -> None:
        self.where = where
        self.errors = errors
        self.asked: list[str] = []
        self.data: dict[str, Any] = {}
        self.is_object = True
        if not isinstance(value, dict):
            self.fail("expected an object {{…}} (read: {read})", read=brief(value))
            self.is_object = False
            return
        self.data = value
        if isinstance(value, JsonObject):
            for name in value.repeated:
                self.fail("the field {name} stands here twice", name=brief(name))

    def fail(self, message: str, **values: object) -> None:
        """Note an error of this object."""
        where = self.where
        self.errors.append(PlanError("{where}: " + message, where=where, **values))

    def at(self, name: str) -> str:
        """Return the place of a field, for errors."""
        return f"{self.where}.{name}" if self.where != "plan" else name

    def get(self, name: str, read: Callable[[Any, str], T]) -> T | None:
        """Return a field read by `read(value, where)`, or None where it isn't there."""
        self.asked.append(name)
        if name not in self.data:
            return None
        try:
            return read(self.data[name], self.at(name))
        except EngineError as error:
            self.errors.append(error)
            return None

    def need(self, name: str, read: Callable[[Any, str], T]) -> T | None:
        """Return a field that must be there; None where it is missing or wrong."""
        if name not in self.data:
            self.asked.append(name)
            if self.is_object:
                self.fail("the field {name} is missing", name=name)
            return None
        return self.get(name, read)

    def items(self, name: str, *, at_most: int) -> list[tuple[str, Any]]:
        """Return the entries of a list field with their places."""
        self.asked.append(name)
        value = self.data.get(name, [])
        if not isinstance(value, list):
            self.fail("{name} must be a list (read: {r})", name=name, r=brief(value))
            return []
        if len(value) > at_most:
            self.fail(
                "{name} can hold at most {at_most} entries (read: {count})",
                name=name,
                at_most=at_most,
                count=len(value),
            )
            return []
        return [(f"{self.at(name)}[{n}]", entry) for n, entry in enumerate(value)]

    def done(self) -> None:
        """Refuse every field that was not asked for."""
        for name in self.data:
            if name not in self.asked:
                self.fail("unknown field {name}", name=brief(name))


def read_depth(value: Any, where: str, unit: UnitSystem) -> Depth:
    """Return a length, or a share given as `{"of_thickness": "1/2"}`."""
    if not isinstance(value, dict):
        return Depth(length=read_any_length(value, where, unit))
    errors: list[EngineError] = []
    entry = Fields(value, where, errors)
    share = entry.need("of_thickness", read_share)
    entry.done()
    raise_all(errors)
    return Depth(share=share)
