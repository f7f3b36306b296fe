"""What is next for one student at the meeting that is on."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from projects.meeting_night import MINUTE, minute_of
from projects.models import MeetingPlan

State = Literal["now", "overdue", "next", "waits"]


@dataclass(frozen=True, kw_only=True)
class NextTurn:
    """A student's turn; `place` names the machine, "" at the bench.

    `state` says how it stands: it is on; it should be done by now and is still open; it
    comes; or it waits for something, so that it can't be done as the build stands.
    """

    step: str
    place: str
    begins_at: datetime
    ends_at: datetime
    state: State


def next_turn(
    shop_class: int,
    build: int,
    *,
    done: Collection[str],
    ready: Collection[str],
    now: datetime,
) -> NextTurn | None:
    """Return a build's turn now or next, by the newest plan of the meeting that is on.

    `ready` are the steps that can be begun. One that can't is told only where nothing
    planned can; one that should be done by now comes before one that is still to come.
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
    left = []
    for turn in plan.turns:
        if turn["build"] == build and turn["step"] not in done:
            begins_at = zero + turn["start"] * MINUTE
            ends_at = zero + turn["end"] * MINUTE
            state = _state(begins_at, ends_at, is_ready=turn["step"] in ready, now=now)
            left.append(
                NextTurn(
                    step=turn["step"],
                    place=turn["place"],
                    begins_at=begins_at,
                    ends_at=ends_at,
                    state=state,
                )
            )
    return min(left, key=lambda t: (_TURNS.index(t.state), t.begins_at), default=None)


_TURNS: tuple[State, ...] = ("now", "overdue", "next", "waits")


def _state(
    begins_at: datetime, ends_at: datetime, *, is_ready: bool, now: datetime
) -> State:
    if not is_ready:
        return "waits"
    if ends_at <= now:
        return "overdue"
    return "now" if begins_at <= now else "next"
