"""Where students stand with machines: read from the record, never kept beside it."""

from __future__ import annotations

from calendar import monthrange
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from projects.models import (
    Build,
    Machine,
    Membership,
    Requirement,
    RequirementRecord,
    ShopClass,
    SignOff,
    User,
)

State = Literal["none", "signed", "lapsed", "withdrawn"]
Pair = tuple[int, int]
"""A student's number and a machine's."""

ANEW_AFTER_WITHDRAWAL = frozenset(
    {Requirement.Kind.DEMONSTRATION, Requirement.Kind.SUPERVISED_CUT}
)
"""What has to be seen and done again before somebody is signed off again."""


@dataclass(frozen=True, kw_only=True)
class Standing:
    """Where one student stands with one machine; `newest` is None before any record."""

    state: State
    newest: SignOff | None = None

    @property
    def may_use(self) -> bool:
        """Tell whether there is a sign-off, neither lapsed nor withdrawn."""
        return self.state == "signed"


NONE = Standing(state="none")


def standing(newest: SignOff | None, *, today: date) -> Standing:
    """Return where somebody stands whose newest record for a machine is `newest`.

    A sign-off counts through the day it lapses on.
    """
    if newest is None:
        return NONE
    if newest.act == SignOff.Act.WITHDRAWN:
        return Standing(state="withdrawn", newest=newest)
    if newest.lapses_on is not None and newest.lapses_on < today:
        return Standing(state="lapsed", newest=newest)
    return Standing(state="signed", newest=newest)


def standings(
    students: Collection[int], machines: Collection[int], *, today: date
) -> dict[Pair, Standing]:
    """Return where these students stand with these machines; costs one query.

    A pair without any record is left out: it stands at `NONE`.
    """
    rows = SignOff.objects.filter(student__in=students, machine__in=machines)
    newest = {
        (row.student_id, row.machine_id): row for row in rows.select_related("by")
    }
    return {pair: standing(row, today=today) for pair, row in newest.items()}


def kinds_signed(
    student: int, machines: Iterable[Machine], found: Mapping[Pair, Standing]
) -> frozenset[str]:
    """Return the kinds of machine that a student is signed off on at least one of."""
    return frozenset(
        machine.kind
        for machine in machines
        if found.get((student, machine.pk), NONE).may_use
    )


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One thing that a machine asks, and the newest record of it for a student."""

    requirement: Requirement
    newest: RequirementRecord | None = None
    is_met: bool = False

    @property
    def must_be_anew(self) -> bool:
        """Tell whether it was met once, before the sign-off was withdrawn."""
        return self.newest is not None and self.newest.met and not self.is_met


def asked(
    requirements: Iterable[Requirement],
    records: Iterable[RequirementRecord],
    *,
    withdrawn_at: datetime | None,
) -> tuple[Asked, ...]:
    """Return what is asked of a student now, with the record of each that counts.

    `records` come oldest first; the newest of a requirement counts. What has to be seen
    or done counts only where it was recorded after the newest withdrawal. A lapse
    leaves every record standing.
    """
    newest = {record.requirement_id: record for record in records}

    def one(requirement: Requirement) -> Asked:
        record = newest.get(requirement.pk)
        is_met = record is not None and record.met
        if record is not None and requirement.kind in ANEW_AFTER_WITHDRAWAL:
            is_met = is_met and (withdrawn_at is None or record.at > withdrawn_at)
        return Asked(requirement=requirement, newest=record, is_met=is_met)

    return tuple(one(each) for each in requirements if each.retired_at is None)


@dataclass(frozen=True, kw_only=True)
class MachineRecord:
    """All that was recorded of one student at one machine, oldest first."""

    machine: Machine
    standing: Standing
    asked: tuple[Asked, ...]
    records: tuple[RequirementRecord, ...]
    sign_offs: tuple[SignOff, ...]

    @property
    def lacking(self) -> tuple[Requirement, ...]:
        """What is asked and not met."""
        return tuple(one.requirement for one in self.asked if not one.is_met)

    @property
    def met_count(self) -> int:
        """How many of the things asked are met."""
        return sum(one.is_met for one in self.asked)


def machine_records(
    students: Collection[int], machines: Sequence[Machine], *, today: date
) -> dict[Pair, MachineRecord]:
    """Return what was recorded of each student at each machine; costs three queries."""
    required: dict[int, list[Requirement]] = defaultdict(list)
    for requirement in Requirement.objects.filter(machine__in=machines):
        required[requirement.machine_id].append(requirement)
    machine_of = {one.pk: pk for pk, every in required.items() for one in every}
    records: dict[Pair, list[RequirementRecord]] = defaultdict(list)
    for record in RequirementRecord.objects.filter(
        student__in=students, requirement__machine__in=machines
    ).select_related("by"):
        records[record.student_id, machine_of[record.requirement_id]].append(record)
    sign_offs: dict[Pair, list[SignOff]] = defaultdict(list)
    for row in SignOff.objects.filter(
        student__in=students, machine__in=machines
    ).select_related("by"):
        sign_offs[row.student_id, row.machine_id].append(row)
    return {
        (student, machine.pk): _machine_record(
            machine,
            required.get(machine.pk, ()),
            records.get((student, machine.pk), ()),
            sign_offs.get((student, machine.pk), ()),
            today=today,
        )
        for student in students
        for machine in machines
    }


def machine_record(student: int, machine: Machine, *, today: date) -> MachineRecord:
    """Return what was recorded of one student at one machine; costs three queries."""
    return machine_records([student], [machine], today=today)[student, machine.pk]


def _machine_record(
    machine: Machine,
    required: Iterable[Requirement],
    records: Sequence[RequirementRecord],
    sign_offs: Sequence[SignOff],
    *,
    today: date,
) -> MachineRecord:
    withdrawn = [row.at for row in sign_offs if row.act == SignOff.Act.WITHDRAWN]
    return MachineRecord(
        machine=machine,
        standing=standing(sign_offs[-1] if sign_offs else None, today=today),
        asked=asked(required, records, withdrawn_at=max(withdrawn, default=None)),
        records=tuple(records),
        sign_offs=tuple(sign_offs),
    )


@dataclass(frozen=True, kw_only=True)
class Change:
    """What is to be recorded of one requirement."""

    requirement: Requirement
    met: bool
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Act:
    """What is to be done with a sign-off; `note` is the reason to withdraw it.

    `seen` is the number of the newest record that was looked at, 0 for none; without
    it nobody asks whether the record has changed meanwhile.
    """

    act: str
    note: str = ""
    lapses_on: date | None = None
    seen: int | None = None


def acts_from(standing: Standing) -> tuple[SignOff.Act, ...]:
    """Return what can be done with a sign-off as it stands."""
    if standing.state in ("none", "withdrawn"):
        return (SignOff.Act.SIGNED,)
    return SignOff.Act.RENEWED, SignOff.Act.WITHDRAWN


def lapse_date(machine: Machine, today: date) -> date | None:
    """Return the last day of a sign-off of today by the machine's own rule, if any."""
    if not machine.lapses_after_months:
        return None
    years, month = divmod(today.month - 1 + machine.lapses_after_months, 12)
    year, month = today.year + years, month + 1
    return date(year, month, min(today.day, monthrange(year, month)[1]))


def signers_of(shop_class: ShopClass, *, student: int) -> list[User]:
    """Return who may sign off in a class, by name; never the student themself.

    Costs one query.
    """
    staff = Membership.objects.staff("may_sign").filter(shop_class=shop_class)
    people = (row.user for row in staff.select_related("user").order_by("user__name"))
    return [user for user in people if user.pk != student and user.is_active]


def may_sign(user: User, build: Build) -> bool:
    """Tell whether somebody may sign a student off; costs one query."""
    shop_class = build.shop_class
    if shop_class.archived_at is not None or build.student_id == user.pk:
        return False
    staff = Membership.objects.staff("may_sign")
    return staff.filter(shop_class=shop_class, user=user).exists()
