"""What each invented student has met at the machines, and who was signed off.

Most are signed off on what they need. Tomas and Priya are half way; Samir's sign-off on
the table saw has lapsed, Ingrid's on the mitre saw was withdrawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from projects import signoffs
from projects.demo.term import Term
from projects.engine.shop.marking import has_passed
from projects.models import (
    CheckTaken,
    Machine,
    NearMiss,
    Question,
    Requirement,
    RequirementRecord,
    ShopClass,
    SignOff,
    User,
)

Kind = Requirement.Kind
FIRST_SAW = ("hand_tools", "mitre_saw", "jointer", "planer")
SAWS = (*FIRST_SAW, "band_saw", "table_saw")
JOINTS = (*SAWS, "router", "router_table", "mortiser")
ALL = (*JOINTS, "drill_press", "sander")
SIGNED: dict[str, tuple[str, ...]] = {
    "tomas": (),
    "adaeze": FIRST_SAW,
    "leif": FIRST_SAW,
    "rosa": (*FIRST_SAW, "band_saw"),
    "priya": (*FIRST_SAW, "band_saw"),
    "ingrid": SAWS,
    "samir": JOINTS,
    "yuki": JOINTS,
    "kofi": JOINTS,
    "olena": ALL,
    "jonah": ALL,
    "meilin": JOINTS,
}
"""The kinds of machine that each student was signed off on at some time."""
HALF_WAY: dict[str, tuple[tuple[str, tuple[str, ...]], ...]] = {
    "tomas": (
        ("hand_tools", (Kind.SHEET, Kind.DEMONSTRATION)),
        ("mitre_saw", (Kind.SHEET, Kind.CHECK)),
    ),
    "adaeze": (("table_saw", (Kind.SHEET,)),),
    "priya": (("table_saw", (Kind.SHEET, Kind.CHECK, Kind.CONSENT)),),
}
"""What was met of what a machine asks, without a sign-off yet."""
FAILED_FIRST = ("priya", "table_saw")
"""Who failed a written check, and passed it the second time."""
LAPSED = ("samir", "table_saw")
WITHDRAWN = ("ingrid", "mitre_saw")
REASON = (
    "Held a short piece by hand close to the blade. We have talked about it; she shows "
    "me a held cut before she goes on."
)
_LAPSED_DAYS = 368
"""How long ago a sign-off was that has lapsed, by the shop's rule of 12 months."""
_FAILED = 6
_ASSISTED = (Kind.DEMONSTRATION, "mitre_saw")
"""What the assistant shows."""
_STEP = timedelta(minutes=3)


@dataclass(frozen=True, kw_only=True)
class Shop:
    """Hold what is signed for, and who signs."""

    machines: Mapping[str, Machine]
    instructor: User
    assistant: User

    def asked(self, kind: str) -> list[Requirement]:
        """Return what a kind of machine asks."""
        return list(self.machines[kind].requirements.all())

    def signer(self, requirement: Requirement, kind: str, student: User) -> User:
        """Return who records that a student met a requirement."""
        if requirement.kind in (Kind.SHEET, Kind.CHECK):
            return student
        helps = (requirement.kind, kind) == _ASSISTED
        return self.assistant if helps else self.instructor


@dataclass(frozen=True, kw_only=True)
class Met:
    """Hold the requirements of one machine that a student met, from `at` on."""

    student: User
    kind: str
    at: datetime
    requirements: tuple[Requirement, ...]
    right: int


def sign(shop: Shop, students: Mapping[str, User], term: Term) -> None:
    """Write what was met and who was signed off, in the order it happened."""
    met = list(_met(shop, students, term))
    questions = {
        kind: list(machine.questions.all()) for kind, machine in shop.machines.items()
    }
    CheckTaken.objects.bulk_create(
        taken
        for one in met
        for taken in _checks(shop.machines[one.kind], questions[one.kind], one)
    )
    RequirementRecord.objects.bulk_create(
        record for one in met for record in _records(shop, one)
    )
    SignOff.objects.bulk_create(
        _sign_off(shop, one) for one in met if one.kind in SIGNED[one.student.username]
    )


def withdraw(shop: Shop, students: Mapping[str, User], term: Term) -> None:
    """Withdraw the one sign-off that was withdrawn, at the end of last meeting."""
    username, kind = WITHDRAWN
    SignOff.objects.create(
        machine=shop.machines[kind],
        student=students[username],
        act=SignOff.Act.WITHDRAWN,
        note=REASON,
        at=term.ago(1) + timedelta(minutes=140),
        by=shop.instructor,
    )


def note_near_miss(shop_class: ShopClass, shop: Shop, term: Term) -> None:
    """Write down what nearly went wrong."""
    happened_at = term.ago(1) + timedelta(minutes=95)
    NearMiss.objects.create(
        shop_class=shop_class,
        kind=NearMiss.Kind.NEAR_MISS,
        happened_at=happened_at,
        machine=shop.machines["table_saw"],
        what=(
            "A narrow offcut wedged between the blade and a stop left on the fence, "
            "and was thrown back. Nobody stood in line; nobody was hurt."
        ),
        done=(
            "Stopped the saw and the class. A short block now ends before the blade, "
            "and the stop comes off the fence before any rip."
        ),
        at=happened_at + timedelta(minutes=30),
        by=shop.instructor,
    )


def _met(shop: Shop, students: Mapping[str, User], term: Term) -> Iterator[Met]:
    for n, (username, kinds) in enumerate(SIGNED.items()):
        wanted = [(kind, None) for kind in kinds]
        for k, (kind, only) in enumerate([*wanted, *HALF_WAY.get(username, ())]):
            asked = shop.asked(kind)
            at = term.ago(4 if k < len(FIRST_SAW) else 3)
            if (username, kind) == LAPSED:
                at -= timedelta(days=_LAPSED_DAYS) - (term.tonight - at)
            elif only is not None:
                at = term.tonight
            yield Met(
                student=students[username],
                kind=kind,
                at=at + _STEP * (k + n % 3),
                requirements=tuple(
                    one for one in asked if only is None or one.kind in only
                ),
                right=8 + (n + k) % 3,
            )


def _checks(
    machine: Machine, questions: list[Question], met: Met
) -> Iterator[CheckTaken]:
    if all(one.kind != Kind.CHECK for one in met.requirements):
        return
    if (met.student.username, met.kind) == FAILED_FIRST:
        yield _check(machine, questions, met, right=_FAILED, at=met.at - _STEP)
    yield _check(machine, questions, met, right=met.right, at=met.at)


def _check(
    machine: Machine, questions: list[Question], met: Met, *, right: int, at: datetime
) -> CheckTaken:
    asked = len(questions)
    return CheckTaken(
        machine=machine,
        student=met.student,
        answers=[
            {
                "text": question.text,
                "choices": question.choices,
                "right": question.right,
                "given": (question.right + (n >= right)) % len(question.choices),
                "why": question.why,
                "source": question.source,
            }
            for n, question in enumerate(questions)
        ],
        right=right,
        asked=asked,
        pass_mark_pct=machine.pass_mark_pct,
        passed=has_passed(right, asked, pass_mark_pct=machine.pass_mark_pct),
        at=at,
    )


def _records(shop: Shop, met: Met) -> Iterator[RequirementRecord]:
    for n, requirement in enumerate(met.requirements):
        is_check = requirement.kind == Kind.CHECK
        yield RequirementRecord(
            requirement=requirement,
            student=met.student,
            title=requirement.title,
            met=True,
            score=f"{met.right} of 10" if is_check else "",
            at=met.at + timedelta(minutes=n),
            by=shop.signer(requirement, met.kind, met.student),
        )


def _sign_off(shop: Shop, met: Met) -> SignOff:
    machine, at = shop.machines[met.kind], met.at + timedelta(minutes=5)
    return SignOff(
        machine=machine,
        student=met.student,
        act=SignOff.Act.SIGNED,
        lapses_on=signoffs.lapse_date(machine, timezone.localdate(at)),
        at=at,
        by=shop.instructor,
    )
