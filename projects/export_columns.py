"""What the tables of an export are made of: columns that read rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from projects.models import ShopClass

Words = str | Promise


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column: its name, what it says, and how to get it from a row."""

    name: str
    about: Words
    of: Callable[[Any], object]


@dataclass(frozen=True, kw_only=True)
class Table:
    """One table; reading its rows costs one query."""

    name: str
    about: Words
    columns: tuple[Column, ...]
    rows: Callable[[ShopClass], Iterable[Any]]


def when(moment: datetime | None) -> str | None:
    """Return a moment as ISO 8601 writes it, in the school's time zone."""
    return timezone.localtime(moment).isoformat(timespec="seconds") if moment else None


def field(name: str, about: Words, path: str = "") -> Column:
    """Return a column of a row's field, or of what `path` leads to."""
    steps = (path or name).split(".")

    def of(row: Any) -> object:
        for step in steps:
            row = None if row is None else getattr(row, step)
        return when(row) if isinstance(row, datetime) else row

    return Column(name=name, about=about, of=of)


AT = field("at", _("when it was recorded"))
BY = field("by", _("who recorded it"), "by.name")
NOTE = field("note", _("note"))
BUILD = (
    field("build", _("number of the build, as in builds"), "build_id"),
    field("student", _("name of the student whose build it is"), "build.student.name"),
)
STUDENT = (
    field("person", _("number of the student, as in members"), "student_id"),
    field("student", _("name of the student"), "student.name"),
)
