"""Meeting plans made in the background, one at a time; kept for this run alone.

A plan is checked by the engine's own check before anybody sees it; one that breaks a
rule is an error, and is neither kept nor shown.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from threading import Lock, Thread
from time import monotonic
from typing import Literal

from django.db import connections
from django.utils.translation import gettext as _

from projects import actions
from projects.engine.errors import EngineError
from projects.engine.meeting import solve as engine
from projects.engine.meeting.faults import faults
from projects.engine.meeting.records import MeetingPlan, Night
from projects.meeting_night import rows_from
from projects.models import Meeting, User
from projects.words import words

FIRST_SECONDS, ANEW_SECONDS = 20.0, 5.0
LOGGER = logging.getLogger(__name__)
State = Literal["waits", "runs", "done", "failed"]


@dataclass(kw_only=True)
class Job:
    """One plan being made; `problem` says why there is none once it has failed.

    `started` is when it began by the clock that only goes forward; a job waits where
    another meeting is being planned.
    """

    seconds: float
    state: State = "waits"
    started: float = 0.0
    problem: str = ""

    @property
    def is_on(self) -> bool:
        """Tell whether it is still to end."""
        return self.state in ("waits", "runs")

    @property
    def elapsed(self) -> int:
        """How long it has been at it [s]."""
        return int(monotonic() - self.started) if self.state == "runs" else 0


@dataclass(frozen=True, kw_only=True)
class Order:
    """What is to be planned, and for whom it is kept.

    `at` is when what the night rests on was read; `old` the plan to go on from;
    `places` are the names of the machines by their keys.
    """

    meeting: Meeting
    night: Night
    old: MeetingPlan | None
    places: Mapping[str, str]
    seconds: float
    at: datetime
    by: User


@dataclass(kw_only=True)
class _Shelf:
    """The newest job of each meeting, by its number."""

    lock: Lock = field(default_factory=Lock)
    jobs: dict[int, Job] = field(default_factory=dict)


_SHELF = _Shelf()
_ONE_AT_A_TIME = Lock()


def find(meeting: int) -> Job | None:
    """Return the newest job of a meeting; None where this run had none."""
    with _SHELF.lock:
        return _SHELF.jobs.get(meeting)


def start(order: Order) -> Job:
    """Begin to plan in the background; where that is under way, return it as it is."""
    with _SHELF.lock:
        job = _SHELF.jobs.get(order.meeting.pk)
        if job is not None and job.is_on:
            return job
        job = _SHELF.jobs[order.meeting.pk] = Job(seconds=order.seconds)
    _in_background(lambda: _make(job, order))
    return job


def _in_background(work: Callable[[], None]) -> None:
    def run() -> None:
        try:
            work()
        finally:
            connections.close_all()

    Thread(target=run, daemon=True).start()


def _make(job: Job, order: Order) -> None:
    try:
        with _ONE_AT_A_TIME:
            job.started, job.state = monotonic(), "runs"
            plan, night = planned(order)
        wrong = faults(plan, night)
        if wrong:
            LOGGER.error("a meeting plan breaks a rule: %s", wrong[0])
            job.problem = _("The plan that was found breaks a rule, so it isn't shown.")
        else:
            actions.keep_meeting_plan(
                order.meeting,
                rows_from(plan.turns, order.meeting, order.at, places=order.places),
                value=plan.value,
                bound=plan.bound,
                at=order.at,
                by=order.by,
            )
    except EngineError as error:
        job.problem = words(error)
    except Exception:
        # nobody waits for this thread: the page says so, the log says why
        LOGGER.exception("a meeting could not be planned")
        job.problem = _("The server's log says why.")
    job.state = "failed" if job.problem else "done"


def planned(order: Order) -> tuple[MeetingPlan, Night]:
    """Return the plan that was ordered, and the night that it has to keep to.

    What has begun by the old plan stays. Raises `MeetingError` as `solve` does.
    """
    if order.old is None:
        return engine.solve(order.night, seconds=order.seconds), order.night
    now = order.night.now
    plan = engine.replan(order.old, order.night, now, seconds=order.seconds)
    return plan, engine.night_of(order.old, order.night, now)
