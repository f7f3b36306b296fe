"""The log of near misses: each entry with what was added to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from projects.models import NearMiss


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry, and what was added to it, the oldest first."""

    first: NearMiss
    additions: Sequence[NearMiss]


def near_miss_entries(rows: Iterable[NearMiss]) -> list[Entry]:
    """Return the entries, what happened last first; `rows` come as written."""
    firsts: list[NearMiss] = []
    additions: dict[int, list[NearMiss]] = {}
    for row in rows:
        if row.follows_id is None:
            firsts.append(row)
        else:
            additions.setdefault(row.follows_id, []).append(row)
    firsts.sort(key=lambda row: (row.happened_at, row.pk), reverse=True)
    return [Entry(first=row, additions=additions.get(row.pk, ())) for row in firsts]
