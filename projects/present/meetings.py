"""A class's meetings as a page shows them: the next one first and alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from projects.models import Meeting


@dataclass(frozen=True, kw_only=True)
class MeetingLine:
    """One meeting, and when it ends."""

    meeting: Meeting
    ends_at: datetime


@dataclass(frozen=True, kw_only=True)
class MeetingsPage:
    """All that are coming, the next one alone (`is_on` while it lasts), those past."""

    next: MeetingLine | None
    is_on: bool
    coming: Sequence[MeetingLine]
    past: Sequence[MeetingLine]


def meetings_page(meetings: Sequence[Meeting], *, now: datetime) -> MeetingsPage:
    """Return meetings sorted into what comes and what was, the newest past one first.

    `meetings` come in the order in which they begin.
    """
    lines = [
        MeetingLine(
            meeting=meeting,
            ends_at=meeting.starts_at + timedelta(minutes=meeting.minutes),
        )
        for meeting in meetings
    ]
    coming = [line for line in lines if line.ends_at > now]
    past = [line for line in lines if line.ends_at <= now]
    first = coming[0] if coming else None
    return MeetingsPage(
        next=first,
        is_on=first is not None and first.meeting.starts_at <= now,
        coming=coming,
        past=past[::-1],
    )
