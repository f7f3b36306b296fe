"""A shop's machines: what is asked before a sign-off, and the written check."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import models, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.shop.machines import HAND_TOOLS, MACHINES, NO_MACHINE
from projects.engine.shop.marking import has_passed
from projects.engine.shop.questions import QUESTIONS
from projects.engine.shop.questions import Question as Asked
from projects.models import (
    CheckTaken,
    Machine,
    MachinePhoto,
    Question,
    Requirement,
    RequirementRecord,
    Revision,
    Shop,
    ShopClass,
    User,
)
from projects.pictures import Clean

KINDS = tuple(kind for kind in MACHINES if kind != NO_MACHINE)
USUAL_MINUTES = {
    "jointer": (10, 0),
    "planer": (15, 2),
    "table_saw": (10, 5),
    "mitre_saw": (5, 1),
    "band_saw": (10, 3),
    "router": (15, 5),
    "router_table": (10, 5),
    "drill_press": (5, 2),
    "mortiser": (15, 5),
    "sander": (15, 0),
    HAND_TOOLS: (10, 0),
}
"""How long a step and a setup change take at each kind of machine [min].

Source: common practice, no source; an instructor changes them.
"""
USUAL_REQUIREMENTS = (
    Requirement.Kind.SHEET,
    Requirement.Kind.CHECK,
    Requirement.Kind.DEMONSTRATION,
    Requirement.Kind.SUPERVISED_CUT,
)
BY_LAW = (Requirement.Kind.AGE, Requirement.Kind.CONSENT)
"""What law and school policy decide; a record only notes what was seen."""


class RecordedError(EngineError):
    """Tell that records name a requirement, so its words stay."""


@transaction.atomic
def add_machine(
    shop: Shop, *, kind: str, name: str = "", how_many: int = 1, most_people: int = 1
) -> Machine:
    """Add a machine to a shop, with what is usually asked and the supplied questions.

    Without a name it has that of its kind, and the minutes that are usual for it.
    """
    step, setup = USUAL_MINUTES[kind]
    machine = Machine.objects.create(
        shop=shop,
        kind=kind,
        name=name or _(MACHINES[kind].name),
        how_many=how_many,
        most_people=most_people,
        step_minutes=step,
        setup_minutes=setup,
    )
    add_usual_requirements(machine)
    add_supplied_questions(machine)
    return machine


def kinds_wanted(user: User) -> list[str]:
    """Return the kinds of machine that the plans of somebody's classes use.

    The newest revisions count, with the other ways of their steps. Costs one query.
    """
    taught = ShopClass.objects.taught_by(user).filter(archived_at=None)
    newest = Revision.objects.filter(plan=models.OuterRef("plan")).order_by("-number")
    revisions = Revision.objects.filter(
        plan__in=taught.values("revision__plan"),
        pk=models.Subquery(newest.values("pk")[:1]),
    )
    used: set[str] = set()
    for revision in revisions:
        for step in adapters.steps_of(adapters.plan_of(revision)):
            used |= {step.machine, *(way.machine for way in step.other_ways)}
    return [kind for kind in KINDS if kind in used]


@transaction.atomic
def add_machines_wanted(user: User, shop: Shop) -> list[Machine]:
    """Add a machine of each kind that the plans use and the shop lacks."""
    there = set(
        shop.machines.filter(retired_at=None).values_list("kind", flat=True),
    )
    wanted = [kind for kind in kinds_wanted(user) if kind not in there]
    return [add_machine(shop, kind=kind) for kind in wanted]


def change_machine(machine: Machine, **fields: Any) -> None:
    """Change what is written down of a machine."""
    for name, value in fields.items():
        setattr(machine, name, value)
    machine.save(update_fields=list(fields))


def retire(row: Machine | Requirement | Question) -> None:
    """Take a machine, a requirement or a question out of use; it stays on record."""
    if row.retired_at is None:
        row.retired_at = timezone.now()
        row.save(update_fields=["retired_at"])


def take_back(row: Machine | Requirement | Question) -> None:
    """Put into use again what was retired."""
    row.retired_at = None
    row.save(update_fields=["retired_at"])


def keep_photo(machine: Machine, picture: Clean) -> None:
    """Keep a machine's photo, in the place of the one it had."""
    MachinePhoto.objects.update_or_create(
        machine=machine,
        defaults={
            "data": picture.data,
            "width": picture.width,
            "height": picture.height,
            "at": timezone.now(),
        },
    )


def photo_stamp(machine: Machine) -> str:
    """Return when a machine's photo was kept, "" where it has none; never loads it.

    Costs one query.
    """
    at = MachinePhoto.objects.filter(machine=machine).values_list("at", flat=True)
    kept = at.first()
    return f"{kept.timestamp():.6f}" if kept else ""


def remove_photo(machine: Machine) -> None:
    """Remove a machine's photo where it has one."""
    MachinePhoto.objects.filter(machine=machine).delete()


def add_requirement(
    machine: Machine, *, kind: str, title: str = "", note: str = ""
) -> Requirement:
    """Ask one more thing before a sign-off; without a title it has its kind's words."""
    return Requirement.objects.create(
        machine=machine,
        kind=kind,
        title=title or str(Requirement.Kind(kind).label),
        note=_full_note(kind, note),
    )


def requirements_named(machine: Machine) -> set[int]:
    """Return the numbers of a machine's requirements that records name."""
    records = RequirementRecord.objects.filter(requirement__machine=machine)
    return set(records.order_by().values_list("requirement", flat=True).distinct())


def usual_missing(machine: Machine) -> list[Requirement.Kind]:
    """Return what is usually asked and the machine doesn't ask; costs one query."""
    there = set(
        machine.requirements.filter(retired_at=None).values_list("kind", flat=True)
    )
    return [kind for kind in USUAL_REQUIREMENTS if kind not in there]


def add_usual_requirements(machine: Machine) -> None:
    """Ask what is usually asked, where the machine doesn't yet."""
    for kind in usual_missing(machine):
        add_requirement(machine, kind=kind)


def reword_requirement(requirement: Requirement, *, title: str, note: str) -> None:
    """Change a requirement's words; raises `RecordedError` once a record names it."""
    if requirement.records.exists():
        raise RecordedError("a record names it already; retire it and add another")
    requirement.title = title
    requirement.note = _full_note(requirement.kind, note)
    requirement.save(update_fields=["title", "note"])


def _full_note(kind: str, note: str) -> str:
    law = _("Follow local law and school policy; this only notes what was seen.")
    if kind not in BY_LAW or law in note:
        return note
    return f"{note} {law}".strip()


def add_question(machine: Machine, asked: Asked) -> Question:
    """Add a question to a machine's written check."""
    return Question.objects.create(
        machine=machine,
        text=asked.text,
        choices=list(asked.choices),
        right=asked.right,
        why=asked.why,
        source=asked.source,
    )


@transaction.atomic
def change_question(question: Question, asked: Asked) -> Question:
    """Put a question in the place of one, which is retired."""
    retire(question)
    return add_question(question.machine, asked)


def questions_missing(machine: Machine) -> list[Asked]:
    """Return the supplied questions that a machine never had."""
    there = set(machine.questions.values_list("text", flat=True))
    return [one for one in QUESTIONS.get(machine.kind, ()) if one.text not in there]


def add_supplied_questions(machine: Machine) -> None:
    """Add the supplied questions that a machine never had."""
    for asked in questions_missing(machine):
        add_question(machine, asked)


@transaction.atomic
def take_check(
    machine: Machine,
    student: User,
    questions: Sequence[Question],
    given: Mapping[int, int],
) -> CheckTaken:
    """Mark a written check and keep it whole; a pass meets what asks for the check.

    `given` has the index chosen by the question's number.
    """
    right = sum(given[question.pk] == question.right for question in questions)
    now = timezone.now()
    taken = CheckTaken.objects.create(
        machine=machine,
        student=student,
        answers=[_answer(question, given[question.pk]) for question in questions],
        right=right,
        asked=len(questions),
        pass_mark_pct=machine.pass_mark_pct,
        passed=has_passed(right, len(questions), pass_mark_pct=machine.pass_mark_pct),
        at=now,
    )
    if taken.passed:
        asks = machine.requirements.filter(kind=Requirement.Kind.CHECK, retired_at=None)
        for requirement in asks:
            RequirementRecord.objects.create(
                requirement=requirement,
                student=student,
                title=requirement.title,
                met=True,
                score=_("%(right)d of %(asked)d")
                % {"right": right, "asked": len(questions)},
                at=now,
                by=student,
            )
    return taken


def _answer(question: Question, given: int) -> dict[str, Any]:
    return {
        "text": question.text,
        "choices": question.choices,
        "right": question.right,
        "given": given,
        "why": question.why,
        "source": question.source,
    }
