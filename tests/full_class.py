"""A class of any size in the middle of its term, written in a few queries."""

from datetime import date, datetime, timedelta

from django.utils import timezone

from projects import adapters
from projects.demo.stages import STAGES, Entries
from projects.engine.shop.machines import HAND_TOOLS, MACHINES, NO_MACHINE
from projects.engine.units import read_length
from projects.models import (
    Build,
    CheckTaken,
    Hand,
    Machine,
    Meeting,
    Membership,
    Reading,
    Requirement,
    RequirementRecord,
    ShopClass,
    SignOff,
    StepMark,
    User,
)
from tests.factories import HASH, ShopClassFactory

DONE = {"measured": 6, "cut": 14, "fitted": 17}
"""How many steps are done where stock is measured, sizes are cut, the fit is read."""
GIVEN = ("Alba", "Bero", "Cato", "Dunja", "Edda", "Faro", "Gisla", "Hovik", "Ione")
FAMILY = ("Ashgrove", "Brinell", "Corvane", "Dovrell", "Elmstead", "Fennimor")
NOTES = ("The fence won't lock.", "", "Which face goes down?")
LIVELY = timedelta(hours=2)


def full_class(students: int) -> ShopClass:
    """Return a class of the boot bench: students at all stages of the demo.

    Every machine kind stands in the shop; some are signed off, some not, one in nine
    has a hand up.
    """
    made = ShopClassFactory.create(title=f"Class of {students}")
    now = timezone.now()
    owner = made.shop.owner
    machines = Machine.objects.bulk_create(
        Machine(shop=made.shop, kind=kind.key, name=kind.name)
        for kind in MACHINES.values()
        if kind.key not in (HAND_TOOLS, NO_MACHINE)
    )
    asked = Requirement.objects.bulk_create(
        Requirement(machine=machine, kind="sheet", title="Read the sheet")
        for machine in machines
    )
    Meeting.objects.create(shop_class=made, starts_at=now + timedelta(days=2))
    builds = _enrol(made, students)
    for n, build in enumerate(builds):
        at = now - LIVELY * (n % 5) - timedelta(minutes=n)
        entries = list(STAGES.values())[n % len(STAGES)]
        _log(build, entries, at)
        _mark(build, entries, n, at)
        if n % 9 == 4:
            Hand.objects.create(
                build=build,
                raised=True,
                note=NOTES[n // 9 % 3],
                at=now - timedelta(minutes=n),
                by=build.student,
            )
        CheckTaken.objects.create(
            machine=machines[n % 3],
            student=build.student,
            answers=[],
            right=9,
            asked=10,
            pass_mark_pct=80,
            passed=True,
            at=at,
        )
        RequirementRecord.objects.create(
            requirement=asked[n % 3],
            student=build.student,
            title="Read the sheet",
            met=True,
            at=at,
            by=build.student,
        )
    SignOff.objects.bulk_create(
        SignOff(
            machine=machine,
            student=build.student,
            act=SignOff.Act.SIGNED,
            lapses_on=date(2000, 1, 1) if (n + k) % 11 == 0 else None,
            at=now,
            by=owner,
        )
        for n, build in enumerate(builds)
        for k, machine in enumerate(machines)
        if (n * 3 + k) % 7
    )
    return made


def _enrol(made: ShopClass, students: int) -> list[Build]:
    people = User.objects.bulk_create(
        User(username=f"c{made.pk}-{n}", name=_name(n), password=HASH)
        for n in range(students)
    )
    Membership.objects.bulk_create(
        Membership(shop_class=made, user=person, role=Membership.Role.STUDENT)
        for person in people
    )
    return Build.objects.bulk_create(
        Build(shop_class=made, student=person, revision=made.revision)
        for person in people
    )


def _name(n: int) -> str:
    again = n // (len(GIVEN) * len(FAMILY))
    return f"{GIVEN[n % 9]} {FAMILY[n % 6 - n // 9 % 6]}{f' {again}' if again else ''}"


def _log(build: Build, entries: Entries, at: datetime) -> None:
    rows = []
    for entry in entries:
        length = read_length(entry.typed, unit="in") if entry.typed else None
        rows.append(
            Reading(
                build=build,
                target=str(entry.target),
                point=entry.point,
                typed=entry.typed or "",
                mm=length and length.mm,
                unit=length.unit if length else "in",
                instrument=entry.instrument,
                at=at,
                by=build.student,
            )
        )
    Reading.objects.bulk_create(rows)


def _mark(build: Build, entries: Entries, n: int, at: datetime) -> None:
    """Mark as many steps done as go with what was logged."""
    kinds = {entry.target.kind for entry in entries}
    count = 3 * (len(entries) > 0) + n % 2
    if len(entries) >= 6:
        count = DONE["measured"] + n % 4
    if "cut" in kinds:
        count = DONE["cut"]
    if "distance" in kinds:
        count = DONE["fitted"] + n % 3
    steps = adapters.steps_of(adapters.plan_of(build.revision))
    StepMark.objects.bulk_create(
        StepMark(
            build=build,
            step=step.key,
            title=step.title,
            done=True,
            machine=step.machine,
            at=at,
            by=build.student,
        )
        for step in steps[:count]
    )
