"""Recording what a student met at a machine, and signing off on it."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.hashers import make_password
from django.db import transaction
from django.utils import timezone

from projects.engine.errors import EngineError
from projects.models import Machine, Requirement, RequirementRecord, SignOff, User
from projects.signoffs import Act, Change, acts_from, machine_record


def record_sign_off(
    student: User,
    machine: Machine,
    *,
    by: User,
    changes: Sequence[Change] = (),
    act: Act | None = None,
) -> None:
    """Record what was met or taken back, then sign off, renew or withdraw.

    `by` is whose PIN confirmed it. Raises `EngineError` where the record as it is now
    does not allow that; nothing is written then.
    """
    with transaction.atomic():
        # one at a time at a machine, so that what is checked still holds when written
        Machine.objects.select_for_update().get(pk=machine.pk)
        now = timezone.now()
        for change in changes:
            RequirementRecord.objects.create(
                requirement=change.requirement,
                student=student,
                title=change.requirement.title,
                met=change.met,
                note=change.note,
                at=now,
                by=by,
            )
        if act is not None:
            _check(student, machine, act)
            SignOff.objects.create(
                machine=machine,
                student=student,
                act=act.act,
                note=act.note,
                lapses_on=None if act.act == SignOff.Act.WITHDRAWN else act.lapses_on,
                at=now,
                by=by,
            )


def _check(student: User, machine: Machine, act: Act) -> None:
    """Refuse what the record, with what was just added to it, does not allow."""
    record = machine_record(student.pk, machine, today=timezone.localdate())
    newest = record.standing.newest.pk if record.standing.newest else 0
    is_stale = act.seen is not None and act.seen != newest
    if is_stale or act.act not in acts_from(record.standing):
        raise EngineError(
            "Not done: the record has changed meanwhile. Look at it and decide again."
        )
    if act.act != SignOff.Act.WITHDRAWN and record.lacking:
        titles = "; ".join(requirement.title for requirement in record.lacking)
        raise EngineError("Not signed off. Still asked: {titles}.", titles=titles)


def record_sheet_read(student: User, machine: Machine) -> None:
    """Record that a student says they read a machine's sheet, where it is asked."""
    with transaction.atomic():
        record = machine_record(student.pk, machine, today=timezone.localdate())
        for requirement in record.lacking:
            if requirement.kind == Requirement.Kind.SHEET:
                RequirementRecord.objects.create(
                    requirement=requirement,
                    student=student,
                    title=requirement.title,
                    met=True,
                    at=timezone.now(),
                    by=student,
                )


def set_pin(user: User, pin: str) -> None:
    """Keep the hash of somebody's signing PIN."""
    user.pin = make_password(pin)
    user.save(update_fields=["pin"])
