"""Tables as CSV text that a spreadsheet shows and never runs."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence

# what a spreadsheet may take for the start of a formula: OWASP, Application Security
# Verification Standard 5.0, requirement 1.2.10; the carriage return as on OWASP's page
# "CSV Injection"
_FORMULA_STARTS = (
    "=", "+", "-", "@", "＝", "＋", "－", "＠", "\t", "\r", "\n", "\0"
)  # fmt: skip


def cell(value: object) -> str:
    """Return what a value stands as: text as typed, "" for None, yes or no, JSON.

    Text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return as_text(value)
    if isinstance(value, list | dict):
        return json.dumps(value, ensure_ascii=False)
    return str(value)


def as_text(text: str) -> str:
    """Return text with an apostrophe before what a spreadsheet would run."""
    # spaces before it are dropped by some spreadsheets
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA_STARTS) else text


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """Return a table as a CSV file: RFC 4180, in UTF-8.

    It begins with the byte order mark, without which some spreadsheets guess another
    encoding and spoil names.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(map(cell, header))
    writer.writerows(map(cell, row) for row in rows)
    return text.getvalue().encode("utf-8-sig")
