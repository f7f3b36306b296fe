"""At a meeting: who is there, which machine is down, and the plan that was made."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.utils import timezone

from projects.models import Build, Machine, Meeting, MeetingPlan, Outage, Presence, User


def say_presence(
    meeting: Meeting, build: Build, newest: Presence | None, *, state: str, by: User
) -> Presence | None:
    """Say whether a student is there; `newest` is what was said last.

    Nothing is said twice. Return the newest row.
    """
    if state == (newest.state if newest else Presence.State.PRESENT):
        return newest
    return Presence.objects.create(
        meeting=meeting, build=build, state=state, at=timezone.now(), by=by
    )


def say_outage(
    machine: Machine, newest: Outage | None, *, down: bool, by: User, note: str = ""
) -> Outage | None:
    """Say that a machine is down, or runs again; nothing is said twice.

    Return the newest row.
    """
    if down == (newest is not None and newest.down):
        return newest
    return Outage.objects.create(
        machine=machine, down=down, note=note, at=timezone.now(), by=by
    )


def keep_meeting_plan(
    meeting: Meeting,
    turns: list[dict[str, Any]],
    *,
    value: float,
    bound: float,
    at: datetime,
    by: User,
) -> MeetingPlan:
    """Keep who does what next; `at` is when what it rests on was read."""
    return MeetingPlan.objects.create(
        meeting=meeting, turns=turns, value=value, bound=bound, at=at, by=by
    )
