"""A roster as a CSV file: which of its columns holds the names."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass

from projects.roster import read_roster

MOST_BYTES = 200_000

_WHOLE = {"name", "names", "full name", "student", "students", "student name"}
_FIRST = {"first", "first name", "firstname", "given name", "given names", "forename"}
_LAST = {"last", "last name", "lastname", "surname", "family name"}

Table = list[list[str]]


class NotATableError(ValueError):
    """Tell that a file is no text with one student a row."""


@dataclass(frozen=True, kw_only=True)
class NamesRead:
    """The names in a file, in order.

    `is_sure` is False where nothing told which of several columns holds them.
    """

    names: list[str]
    is_sure: bool


def read_names(data: bytes) -> NamesRead:
    """Return the names in a CSV file; raises `NotATableError`.

    They stand in the column headed name or student, or first name and last name; else
    in the first column.
    """
    table = _table(_text(data))
    if not table:
        return NamesRead(names=[], is_sure=True)
    heads = [_head(cell) for cell in table[0]]
    columns = _columns(heads)
    rows = table[1:] if columns else table
    lines = (" ".join(_cells(row, columns or [0])) for row in rows)
    # a column without a head may be anything, even half of a name
    is_sure = max(map(len, table)) <= (len(heads) if columns else 1)
    return NamesRead(names=read_roster("\n".join(lines)), is_sure=is_sure)


def _text(data: bytes) -> str:
    """Return the file's text: UTF-8, UTF-16 with its mark, or what old tables use."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252", "latin-1"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" in text:  # a spreadsheet's own file, or a picture
            break
        return text
    raise NotATableError("no text")


def _table(text: str) -> Table:
    """Return the rows that hold anything, cut at the sign that makes most columns."""
    tables = [_cut(text, sign) for sign in (",", ";", "\t")]
    if not all(tables):
        return []
    return max(tables, key=lambda rows: (len(rows[0]), max(map(len, rows))))


def _cut(text: str, sign: str) -> Table:
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=sign))
    except csv.Error as error:
        raise NotATableError(str(error)) from error
    return [row for row in rows if any(cell.strip() for cell in row)]


def _head(cell: str) -> str:
    return " ".join(re.sub(r"[^a-z]+", " ", cell.lower()).split())


def _columns(heads: Sequence[str]) -> list[int]:
    """Return which columns make up a name; none where the first row is no head."""
    for place, head in enumerate(heads):
        if head in _WHOLE:
            return [place]
    first = [place for place, head in enumerate(heads) if head in _FIRST][:1]
    last = [place for place, head in enumerate(heads) if head in _LAST][:1]
    return first + last


def _cells(row: Sequence[str], columns: Sequence[int]) -> list[str]:
    # a line break inside a cell is no second student
    return [" ".join(row[place].split()) for place in columns if place < len(row)]
