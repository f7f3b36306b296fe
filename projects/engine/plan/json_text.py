"""Parse JSON from strangers: bounded, exact, and with repeated keys noticed."""

from __future__ import annotations

import json
import re
from collections import Counter
from typing import Any

from projects.engine.errors import PlanError

MAX_BYTES = 1_000_000
MAX_DEPTH = 20


class JsonNumber(str):
    """Hold a number as the file writes it, so that nothing is rounded."""

    __slots__ = ()


class JsonObject(dict[str, Any]):
    """Hold an object, and which of its keys stood there more than once."""

    repeated: tuple[str, ...] = ()


def parse(data: str | bytes, *, what: str) -> Any:
    """Return the JSON value in `data`; `what` names the file in errors.

    Raises `PlanError` for text over 1 MB, not UTF-8, nested over 20 deep, or not JSON.
    """
    size = len(data if isinstance(data, bytes) else data.encode(errors="replace"))
    if size > MAX_BYTES:
        raise PlanError("{what}: at most 1 MB is read, and this is more", what=what)
    text = _decoded(data, what)
    _refuse_deep(text, what)
    try:
        return json.loads(
            text,
            object_pairs_hook=_object,
            parse_int=JsonNumber,
            parse_float=JsonNumber,
            parse_constant=JsonNumber,
        )
    except json.JSONDecodeError as error:
        raise PlanError(
            "{what}: this is not JSON: {why} at line {line}, column {column}",
            what=what,
            why=error.msg,
            line=error.lineno,
            column=error.colno,
        ) from error


def _decoded(data: str | bytes, what: str) -> str:
    if isinstance(data, str):
        return data.removeprefix("\ufeff")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise PlanError(
            "{what}: the file must be UTF-8 text (byte {at} is not)",
            what=what,
            at=error.start + 1,
        ) from error


def _refuse_deep(text: str, what: str) -> None:
    # brackets inside strings don't nest; a backslash hides the quote after it, and
    # a string that never ends takes all the rest, or this would take quadratic time
    depth = 0
    for token in re.finditer(r'"(?:[^"\\]|\\.)*"?|[\[{]|[\]}]', text, re.DOTALL):
        if token[0] in "[{":
            depth += 1
            if depth > MAX_DEPTH:
                raise PlanError(
                    "{what}: nested more than {depth} deep",
                    what=what,
                    depth=MAX_DEPTH,
                )
        elif token[0] in "]}":
            depth -= 1


def _object(pairs: list[tuple[str, Any]]) -> JsonObject:
    made = JsonObject(pairs)
    if len(made) != len(pairs):
        counts = Counter(key for key, _ in pairs)
        made.repeated = tuple(key for key, count in counts.items() if count > 1)
    return made
