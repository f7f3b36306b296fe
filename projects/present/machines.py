"""A machine as a student and a signer see it, and what was recorded there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from projects.engine.shop.cautions import cautions
from projects.engine.shop.machines import MACHINES
from projects.models import (
    Build,
    CheckTaken,
    Machine,
    RequirementRecord,
    SignOff,
    User,
)
from projects.present.equipment import typed_limits
from projects.signoffs import MachineRecord, Standing


@dataclass(frozen=True, kw_only=True)
class MachineSheet:
    """What a machine's sheet says: cautions, the shop's own, and limits as typed."""

    cautions: tuple[str, ...]
    own_cautions: tuple[str, ...]
    limits: tuple[tuple[str, str], ...]


def machine_sheet(machine: Machine) -> MachineSheet:
    """Return what a machine's sheet says."""
    kind = MACHINES[machine.kind]
    lines = (line.strip() for line in machine.cautions.splitlines())
    return MachineSheet(
        cautions=tuple(_(caution.text) for caution in cautions(kind.cautions)),
        own_cautions=tuple(line for line in lines if line),
        limits=tuple(typed_limits(machine)),
    )


@dataclass(frozen=True, kw_only=True)
class HistoryLine:
    """One thing recorded: when, what, with which note, by whom."""

    at: datetime
    what: str
    note: str
    by: User


def history(record: MachineRecord, checks: Iterable[CheckTaken]) -> list[HistoryLine]:
    """Return all that was recorded at a machine, newest first.

    Each check has its `student` fetched.
    """
    told = [(row.at, 0, row.pk, _check_line(row)) for row in checks]
    told += [(row.at, 1, row.pk, _record_line(row)) for row in record.records]
    told += [(row.at, 2, row.pk, _sign_off_line(row)) for row in record.sign_offs]
    told.sort(key=lambda one: one[:3], reverse=True)
    return [line for *_order, line in told]


def _check_line(row: CheckTaken) -> HistoryLine:
    values = {"right": row.right, "asked": row.asked, "mark": row.pass_mark_pct}
    template = (
        _("Written check: %(right)d of %(asked)d, passed (pass mark %(mark)d %%)")
        if row.passed
        else _(
            "Written check: %(right)d of %(asked)d, not passed (pass mark %(mark)d %%)"
        )
    )
    return HistoryLine(at=row.at, what=template % values, note="", by=row.student)


def _record_line(row: RequirementRecord) -> HistoryLine:
    template = _("Met: %(title)s") if row.met else _("Taken back: %(title)s")
    what = template % {"title": row.title}
    if row.score:
        what = f"{what} ({row.score})"
    return HistoryLine(at=row.at, what=what, note=row.note, by=row.by)


def _sign_off_line(row: SignOff) -> HistoryLine:
    what = row.get_act_display()
    if row.lapses_on is not None:
        until = date_format(row.lapses_on)
        what = _("%(what)s until %(until)s") % {"what": what, "until": until}
    return HistoryLine(at=row.at, what=what, note=row.note, by=row.by)


def standing_words(standing: Standing) -> str:
    """Return where somebody stands with a machine, in words."""
    row = standing.newest
    if row is None:
        return _("not signed off")
    if standing.state == "withdrawn":
        values = {"day": date_format(timezone.localdate(row.at)), "why": row.note}
        return _("withdrawn on %(day)s: %(why)s") % values
    if row.lapses_on is None:
        return _("signed off")
    day = {"day": date_format(row.lapses_on)}
    if standing.state == "lapsed":
        return _("lapsed on %(day)s") % day
    return _("signed off until %(day)s") % day


@dataclass(frozen=True, kw_only=True)
class ClassRow:
    """One student and their record at each machine shown."""

    build: Build
    cells: tuple[MachineRecord, ...]


def class_rows(
    builds: Iterable[Build],
    machines: Sequence[Machine],
    records: dict[tuple[int, int], MachineRecord],
) -> list[ClassRow]:
    """Return a class's students by machines."""
    return [
        ClassRow(
            build=build,
            cells=tuple(records[build.student_id, machine.pk] for machine in machines),
        )
        for build in builds
    ]
