"""Tables to take away, as CSV or as an OpenDocument spreadsheet."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from django.http import HttpResponse
from django.utils import timezone
from django.utils.http import content_disposition_header

from projects.csv_text import as_text

Kind = Literal["csv", "ods"]
Value = str | int | float | Decimal | date | None
"""What a cell holds; a `datetime` is written in the app's own time zone."""

CONTENT_TYPES: dict[Kind, str] = {
    "csv": "text/csv; charset=utf-8",
    "ods": "application/vnd.oasis.opendocument.spreadsheet",
}
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def table_response(
    name: str, kind: Kind, header: Sequence[str], rows: Iterable[Sequence[Value]]
) -> HttpResponse:
    """Return a table as a file `name.kind` to keep."""
    made = csv_bytes(header, rows) if kind == "csv" else ods_bytes(name, header, rows)
    disposition = content_disposition_header(True, f"{name}.{kind}") or "attachment"
    return HttpResponse(
        made,
        content_type=CONTENT_TYPES[kind],
        headers={"Content-Disposition": disposition},
    )


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[Value]]) -> bytes:
    """Return a table as CSV: UTF-8, with the mark by which spreadsheets know that."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow([_csv_cell(name) for name in header])
    writer.writerows([_csv_cell(value) for value in row] for row in rows)
    return text.getvalue().encode("utf-8-sig", errors="replace")


def _csv_cell(value: Value) -> str | int | float | Decimal:
    value = _plain(value)
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="minutes")
    if isinstance(value, date):
        return value.isoformat()
    return as_text(value) if isinstance(value, str) else value


def ods_bytes(
    name: str, header: Sequence[str], rows: Iterable[Sequence[Value]]
) -> bytes:
    """Return a table as a spreadsheet of one sheet: texts, dates and numbers."""
    # slow to load, and only here
    from odfdo import Cell, Document, Row, Table

    sheet = Table(re.sub(r"[^\w-]", " ", name)[:31].strip() or "1")
    for values in (header, *rows):
        row = Row()
        for value in values:
            row.append_cell(Cell(_plain(value)), clone=False)
        sheet.append_row(row, clone=False)
    document = Document("spreadsheet")
    document.body.clear()
    document.body.append(sheet)
    made = io.BytesIO()
    document.save(made)
    return made.getvalue()


def _plain(value: Value) -> Value:
    """Return a value as files hold it: times in our own zone, no stray signs."""
    if isinstance(value, datetime):
        if timezone.is_aware(value):
            value = timezone.localtime(value)
        return value.replace(tzinfo=None, microsecond=0)
    if isinstance(value, str):
        return _NOT_IN_XML.sub("", value)
    return value
