"""Everything recorded about a class as a zip: JSON, the same as CSV, and a guide."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Sequence
from datetime import date, datetime

from django.utils import timezone
from django.utils.translation import gettext as _

from projects.class_tables import TABLES
from projects.csv_text import csv_bytes
from projects.export_columns import Table, when
from projects.models import ShopClass

Cells = Sequence[Sequence[object]]


def class_zip(shop_class: ShopClass, *, at: datetime) -> bytes:
    """Return the zip; costs as many queries as there are tables, whoever is in it.

    Sign-in names, codes and PINs are left out: they open what the file is a copy of.
    """
    cells = {table.name: _cells(table, shop_class) for table in TABLES}
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("README.txt", _guide(shop_class, at))
        made.writestr("class.json", _json(shop_class, cells, at))
        for table in TABLES:
            header = [column.name for column in table.columns]
            made.writestr(f"{table.name}.csv", csv_bytes(header, cells[table.name]))
    return packed.getvalue()


def _cells(table: Table, shop_class: ShopClass) -> Cells:
    rows = table.rows(shop_class)
    return [[column.of(row) for column in table.columns] for row in rows]


def _json(shop_class: ShopClass, cells: dict[str, Cells], at: datetime) -> str:
    names = {t.name: [column.name for column in t.columns] for t in TABLES}
    data = {
        "format": "shopclass-class",
        "version": 1,
        "made_at": when(at),
        "class": {
            "title": shop_class.title,
            "plan": shop_class.revision.plan.title,
            "revision": shop_class.revision.number,
            "starts_on": _day(shop_class.starts_on),
            "ends_on": _day(shop_class.ends_on),
            "archived_at": when(shop_class.archived_at),
        },
        **{
            name: [dict(zip(names[name], row, strict=True)) for row in rows]
            for name, rows in cells.items()
        },
    }
    return json.dumps(data, ensure_ascii=False, indent=1, default=str)


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def _guide(shop_class: ShopClass, at: datetime) -> str:
    """Return what stands in README.txt: each file and its columns."""
    made = timezone.localtime(at)
    lines = [
        _("%(title)s: everything recorded, as of %(when)s")
        % {"title": shop_class.title, "when": made.strftime("%Y-%m-%d %H:%M")},
        "",
        _("This file holds names and what was recorded about people. Keep it private."),
        "",
        _("class.json holds everything; each .csv file one table of the same."),
        _("Times are in this time zone: %(zone)s.") % {"zone": str(made.tzinfo)},
        _(
            "In the .csv files an apostrophe stands before text that a spreadsheet "
            "would take for a formula; in class.json all text is as it was typed."
        ),
        _("Sign-in names, join codes and PINs are not in here."),
    ]
    for table in TABLES:
        lines += ["", f"{table.name}.csv", f"  {table.about}"]
        lines += [f"  {column.name}: {column.about}" for column in table.columns]
    return "\r\n".join(lines) + "\r\n"
