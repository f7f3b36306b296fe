"""What a school office reads: a student's record, and a class's as a table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.utils import timezone
from django.utils.translation import gettext as _

from projects.models import CheckTaken, Machine, SignOff
from projects.present.machines import ClassRow, HistoryLine, history, standing_words
from projects.signoffs import MachineRecord
from projects.tables import Value


@dataclass(frozen=True, kw_only=True)
class MachineBlock:
    """One machine of a student's record: where it stands, and its history."""

    machine: Machine
    words: str
    met: list[str]
    lacking: list[str]
    history: list[HistoryLine]


def machine_blocks(
    records: Sequence[MachineRecord], checks: Iterable[CheckTaken]
) -> list[MachineBlock]:
    """Return a block for each machine in use, and each retired one with a record."""
    by_machine: dict[int, list[CheckTaken]] = {}
    for check in checks:
        by_machine.setdefault(check.machine_id, []).append(check)
    blocks = [
        MachineBlock(
            machine=record.machine,
            words=standing_words(record.standing),
            met=[one.requirement.title for one in record.asked if one.is_met],
            lacking=[requirement.title for requirement in record.lacking],
            history=history(record, by_machine.get(record.machine.pk, ())),
        )
        for record in records
    ]
    return [block for block in blocks if block.history or not block.machine.retired_at]


def header() -> list[str]:
    """Return the names of the columns of `table_rows`."""
    return [
        _("Student"),
        _("Machine"),
        _("State"),
        _("Recorded on"),
        _("By"),
        _("Lapses on"),
        _("Note"),
        _("Met"),
        _("Asked"),
        _("Still asked"),
    ]


def table_rows(rows: Iterable[ClassRow]) -> Iterator[list[Value]]:
    """Return a row for each student and machine."""
    for row in rows:
        for record in row.cells:
            yield _table_row(row.build.student.name, record)


STATES: Mapping[str, str] = {
    "none": "not signed off",
    "signed": "signed off",
    "lapsed": "lapsed",
    "withdrawn": "withdrawn",
}


def _table_row(name: str, record: MachineRecord) -> list[Value]:
    newest: SignOff | None = record.standing.newest
    still = "; ".join(requirement.title for requirement in record.lacking)
    return [
        name,
        record.machine.name,
        _(STATES[record.standing.state]),
        timezone.localdate(newest.at) if newest else None,
        newest.by.name if newest else "",
        newest.lapses_on if newest else None,
        newest.note if newest else "",
        record.met_count,
        len(record.asked),
        still,
    ]
