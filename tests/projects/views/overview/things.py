"""What the tests of the overview do to a class, and how they read its page."""

import re
from datetime import datetime

from django.utils import timezone

from projects import actions, adapters
from projects.models import (
    CheckTaken,
    Hand,
    Membership,
    Requirement,
    RequirementRecord,
    StepMark,
)
from tests.factories import (
    POPLAR,
    RevisionFactory,
    as_bytes,
    plan_data,
)

AT = datetime(2026, 3, 12, 18, 5, tzinfo=timezone.get_default_timezone())
HTMX = {"HX-Request": "true"}


def text(response):
    return response.content.decode()


def row(page, build):
    """Return the words of a student's row, without its markup."""
    start = page.index(f'<tr id="s{build.pk}"')
    inner = page[start : page.index("</tr>", start)]
    return " ".join(re.sub(r"<[^>]+>", " ", inner).split())


def names(page):
    return re.findall(r'<a id="n\d+" [^>]*>([^<]+)</a>', page)


def mark(build, step, *, done=True, at=AT):
    return StepMark.objects.create(
        build=build, step=step, title=step, done=done, at=at, by=build.student
    )


def raise_hand(build, note="", *, raised=True, at=AT):
    return Hand.objects.create(
        build=build, raised=raised, note=note, at=at, by=build.student
    )


def since(page):
    """Return the token an open page asks with."""
    return re.findall(r"since=([0-9a-f]+)", page)[0]


def steps_of(build):
    return adapters.steps_of(adapters.plan_of(build.revision))


def longer():
    """Return the boot bench with a longer title."""
    return as_bytes({**plan_data(), "title": "Hall boot bench, wide"}).decode()


def take_check(build, machine, at):
    CheckTaken.objects.create(
        machine=machine,
        student=build.student,
        answers=[],
        right=9,
        asked=10,
        pass_mark_pct=80,
        passed=True,
        at=at,
    )


def record(build, machine, *, by, at):
    asked = Requirement.objects.create(machine=machine, kind="sheet", title="Read it")
    RequirementRecord.objects.create(
        requirement=asked,
        student=build.student,
        title="Read it",
        met=True,
        at=at,
        by=by,
    )


def leave(build):
    Membership.objects.filter(user=build.student).update(left_at=AT)


def retire(machine):
    machine.retired_at = AT
    machine.save()


def rename(thing):
    thing.name = "Renamed"
    thing.save()


def move(build):
    owner = build.revision.plan.owner
    actions.move_builds(build.shop_class, [build], publish(build), by=owner)


def set_aside(build):
    rows = list(build.readings.all())
    actions.set_aside(build, rows, by=build.student, target=POPLAR, point=1)


def publish(build):
    return RevisionFactory.create(plan=build.revision.plan, number=2, document=longer())
