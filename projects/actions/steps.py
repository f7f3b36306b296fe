"""Marking steps as done, moving them back, raising a hand and taking it down."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from projects.engine.errors import EngineError
from projects.engine.steps.standing import StepStanding
from projects.models import Build, Hand, StepMark, User


class StepBlockedError(EngineError):
    """Tell that a step can't be marked as done: something keeps it from that."""


def mark_done(
    build: Build,
    standing: StepStanding,
    *,
    by: User,
    machine: str = "",
    note: str = "",
) -> None:
    """Mark a step as done at a kind of machine; nothing happens where it is already.

    `machine` may be left out where one way alone is open. Raises `StepBlockedError`
    where the step is blocked or has something left to log, `EngineError` for a
    machine that is not one of its open ways.
    """
    if standing.is_done:
        return
    if not standing.can_be_ticked:
        raise StepBlockedError("This step can't be marked as done yet.")
    ways = [way.machine for way in standing.open_ways]
    if not machine and len(ways) == 1:
        machine = ways[0]
    if machine not in ways:
        raise EngineError("Choose how it was done, from the ways that are open.")
    _mark(build, standing, done=True, by=by, machine=machine, note=note)


def move_back(
    build: Build, standing: StepStanding, *, by: User, note: str = ""
) -> None:
    """Move a step back to not done; nothing happens where it isn't done."""
    if standing.is_done:
        _mark(build, standing, done=False, by=by, note=note)


def _mark(
    build: Build,
    standing: StepStanding,
    *,
    done: bool,
    by: User,
    machine: str = "",
    note: str = "",
) -> None:
    key = standing.step.key
    with transaction.atomic():
        # one at a time: two taps at one moment make one mark
        Build.objects.select_for_update().get(pk=build.pk)
        newest = build.marks.filter(step=key).order_by("pk").last()
        if done == (newest is not None and newest.done):
            return
        StepMark.objects.create(
            build=build,
            step=key,
            title=standing.step.title,
            done=done,
            machine=machine,
            note=note,
            at=timezone.now(),
            by=by,
        )


def set_hand(
    build: Build, newest: Hand | None, *, raised: bool, by: User, note: str = ""
) -> None:
    """Raise a build's hand, or take it down; `newest` is its newest row.

    Raised again with another note it says that; else a hand that is where it should
    be stays as it is.
    """
    was_up = newest is not None and newest.raised
    says_more = raised and newest is not None and note not in ("", newest.note)
    if raised != was_up or says_more:
        Hand.objects.create(
            build=build, raised=raised, note=note, at=timezone.now(), by=by
        )
