"""Every reading of a build, newest first, and what became of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from projects.adapters import current_rows, read_target
from projects.engine.plan.records import Plan
from projects.engine.units import exact_text
from projects.models import Reading
from projects.present.log_form import target_name


@dataclass(frozen=True, kw_only=True)
class HistoryLine:
    """One row of the history; `stands` where it still counts."""

    row: Reading
    kind: str
    name: str
    dimension: str
    read: str
    stands: bool


def history(rows: Sequence[Reading], plan: Plan) -> list[HistoryLine]:
    """Return every row, newest first."""
    standing = {row.pk for row in current_rows(rows)}
    lines = []
    for row in reversed(rows):
        target = read_target(row.target, plan)
        lines.append(
            HistoryLine(
                row=row,
                kind=target.kind if target else "",
                name=target_name(target, plan) if target else row.target,
                dimension=(target.dimension or "") if target else "",
                read=row_text(row),
                stands=row.pk in standing,
            )
        )
    return lines


def row_text(row: Reading) -> str:
    """Return what was read, exactly, with its unit; "" for a point set aside."""
    if row.mm is None:
        return ""
    return exact_text(row.mm, unit="mm" if row.unit == "mm" else "in")
