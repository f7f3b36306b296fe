"""A class in which every table has a row about a student, for erasing and exports."""

from datetime import timedelta

from django.utils import timezone

from projects import actions
from projects.models import (
    BuildMove,
    CheckTaken,
    CutMark,
    Decision,
    Hand,
    Machine,
    Meeting,
    MeetingPlan,
    NearMiss,
    Presence,
    RequirementRecord,
    RunSheet,
    StepMark,
    WayOut,
)
from tests.factories import MachineFactory, log_stock, sign_off

QUESTION = {
    "text": "Who sets the fence?",
    "choices": ["You", "=Nobody"],
    "right": 0,
    "given": 1,
    "why": "You do.",
    "source": "common practice, no source",
}


def machine_of(shop_class):
    """Return the class's shop's machine, with a requirement."""
    found = Machine.objects.filter(shop=shop_class.shop).first()
    machine = found or MachineFactory.create(shop=shop_class.shop)
    machine.requirements.get_or_create(kind="sheet", title="Read the sheet")
    return machine


def record(student, machine, by):
    """Record all that a shop records of a student and a machine."""
    now = timezone.now()
    requirement = machine.requirements.get()
    RequirementRecord.objects.create(
        requirement=requirement, student=student, title="Read", met=True, at=now, by=by
    )
    CheckTaken.objects.create(
        machine=machine,
        student=student,
        answers=[QUESTION],
        right=0,
        asked=1,
        pass_mark_pct=80,
        passed=False,
        at=now,
    )
    sign_off(student, machine, by=by)


def fill(build, by):
    """Give a build, and its class, a row in every table; all written by `by`."""
    shop_class, student = build.shop_class, build.student
    machine, now = machine_of(shop_class), timezone.now()
    log_stock(build)
    said = {"build": build, "at": now, "by": by}
    StepMark.objects.create(step="dado", title="Cut the dado", done=True, **said)
    Hand.objects.create(raised=True, note="@help", **said)
    BuildMove.objects.create(old=build.revision, new=build.revision, **said)
    CutMark.objects.create(step="dado", setting="blade", done=True, **said)
    reading = build.readings.first()
    way_out = WayOut.objects.create(reading=reading, kind="cut_again", **said)
    Decision.objects.create(way_out=way_out, agreed=True, at=now, by=by)
    record(student, machine, by)
    meeting = Meeting.objects.create(
        shop_class=shop_class, starts_at=now + timedelta(days=7)
    )
    Presence.objects.create(meeting=meeting, state="present", **said)
    turns = [
        {
            "build": build.pk,
            "step": "dado",
            "machine": machine.pk,
            "unit": 0,
            "start": 0,
            "end": 10,
        }
    ]
    MeetingPlan.objects.create(
        meeting=meeting, turns=turns, value=1, bound=1, at=now, by=by
    )
    RunSheet.objects.create(
        shop_class=shop_class, machine=machine, setups=[], at=now, by=by
    )
    near = actions.log_near_miss(
        shop_class,
        by=by,
        kind=NearMiss.Kind.NEAR_MISS,
        happened_at=now,
        machine=machine,
        what="A piece came back",
        done="Stopped",
    )
    actions.add_to_near_miss(near, by=by, kind="injury", what="A bruise", done="")
