"""Every reading of a build, newest first, and what became of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext as _

from projects.adapters import current_rows, read_target
from projects.engine.plan.records import Plan
from projects.models import Decision, Reading, WayOut
from projects.present.log_form import target_name
from projects.ways_out import written_with


@dataclass(frozen=True, kw_only=True)
class Because:
    """A decision on a miscut that wrote a row, and the row that it wrote."""

    way: WayOut
    decision: Decision
    part: str
    is_aside: bool


@dataclass(frozen=True, kw_only=True)
class HistoryLine:
    """One row of the history; `stands` where it still counts.

    `because` is the decision that wrote it; of a row that counts no more, the one that
    set it aside.
    """

    row: Reading
    kind: str
    name: str
    dimension: str
    read: str
    stands: bool
    because: Because | None


def history(
    rows: Sequence[Reading], plan: Plan, ways: Sequence[WayOut] = ()
) -> list[HistoryLine]:
    """Return every row, newest first; `ways` come with their decisions."""
    standing = {row.pk for row in current_rows(rows)}
    lines: list[HistoryLine] = []
    newer: dict[tuple[str, int], Because | None] = {}
    for row in reversed(rows):
        target = read_target(row.target, plan)
        because = _because(row, plan, ways)
        followed = newer.get((row.target, row.point))
        newer[row.target, row.point] = because
        lines.append(
            HistoryLine(
                row=row,
                kind=target.kind if target else "",
                name=target_name(target, plan) if target else row.target,
                dimension=(target.dimension or "") if target else "",
                read=row_text(row),
                stands=row.pk in standing,
                because=followed if followed and followed.is_aside else because,
            )
        )
    return lines


def _because(row: Reading, plan: Plan, ways: Sequence[WayOut]) -> Because | None:
    for way in ways:
        for decision in way.decisions.all():
            # a distance that gives writes no row
            if way.kind != WayOut.Kind.LET_GIVE and written_with(decision, row):
                target = read_target(way.reading.target, plan)
                return Because(
                    way=way,
                    decision=decision,
                    part=target_name(target, plan) if target else way.reading.target,
                    is_aside=row.mm is None,
                )
    return None


def row_text(row: Reading) -> str:
    """Return what was read, as typed, with its unit; "" for a point set aside."""
    if row.mm is None:
        return ""
    has_unit = any(sign.isalpha() or sign in "'\"″′" for sign in row.typed)
    return row.typed if has_unit else f"{row.typed} {row.unit}"


@dataclass(frozen=True, kw_only=True)
class UsedLine:
    """What stands of one thing measured: its places, and the newest's when and how."""

    name: str
    reads: tuple[str, ...]
    instrument: str
    at: datetime


def used_lines(rows: Sequence[Reading], plan: Plan) -> list[UsedLine]:
    """Return what a sheet was made from, one line a thing measured."""
    grouped: dict[str, list[Reading]] = {}
    for row in current_rows(rows):
        grouped.setdefault(row.target, []).append(row)
    return [
        UsedLine(
            name=_full_name(target, plan),
            reads=tuple(map(row_text, sorted(found, key=lambda row: row.point))),
            instrument=found[-1].get_instrument_display(),
            at=found[-1].at,
        )
        for target, found in grouped.items()
    ]


def _full_name(text: str, plan: Plan) -> str:
    target = read_target(text, plan)
    if target is None:
        return text
    name = target_name(target, plan)
    if target.dimension == "length":
        return _("%(part)s, length as cut") % {"part": name}
    if target.dimension == "width":
        return _("%(part)s, width as cut") % {"part": name}
    return name
