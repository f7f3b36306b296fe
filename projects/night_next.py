"""What is next for one student at the meeting that is on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from projects.meeting_night import MINUTE, minute_of
from projects.models import MeetingPlan


@dataclass(frozen=True, kw_only=True)
class NextTurn:
    """A student's turn now or next; `place` names the machine, "" at the bench."""

    step: str
    place: str
    begins_at: datetime
    ends_at: datetime


def next_turn(
    shop_class: int, build: int, *, done: Iterable[str], now: datetime
) -> NextTurn | None:
    """Return a build's turn now or next, by the newest plan of the meeting that is on.

    None where no meeting is on, it isn't planned, or nothing is left. One query.
    """
    plans = MeetingPlan.objects.filter(
        meeting__shop_class=shop_class,
        meeting__starts_at__lte=now,
        meeting__starts_at__gt=now - timedelta(days=1),
    )
    plan = (
        plans.select_related("meeting").order_by("-meeting__starts_at", "-pk").first()
    )
    if plan is None or now > plan.meeting.starts_at + plan.meeting.minutes * MINUTE:
        return None
    zero = plan.meeting.starts_at + minute_of(plan.meeting, plan.at) * MINUTE
    done = frozenset(done)
    left = (
        NextTurn(
            step=turn["step"],
            place=turn["place"],
            begins_at=zero + turn["start"] * MINUTE,
            ends_at=zero + turn["end"] * MINUTE,
        )
        for turn in plan.turns
        if turn["build"] == build and turn["step"] not in done
    )
    coming = (turn for turn in left if turn.ends_at > now)
    return min(coming, key=lambda turn: turn.begins_at, default=None)
