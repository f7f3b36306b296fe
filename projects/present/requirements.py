"""What a machine asks, ready for its page."""

from __future__ import annotations

from dataclasses import dataclass

from projects.actions.machines import BY_LAW, requirements_named
from projects.check_forms import RewordForm
from projects.models import Machine, Requirement


@dataclass(frozen=True, kw_only=True)
class RequirementLine:
    """One thing asked; `form` changes its words, None once a record names it."""

    requirement: Requirement
    by_law: bool
    form: RewordForm | None
    is_open: bool


def requirement_lines(
    machine: Machine, sent: RewordForm | None, number: str
) -> list[RequirementLine]:
    """Return what a machine asks, retired things too; costs two queries.

    `sent` is the form that was just refused for requirement `number`.
    """
    named = requirements_named(machine)
    lines = []
    for requirement in machine.requirements.all():
        is_sent = sent is not None and str(requirement.pk) == number
        blank = RewordForm(
            initial={"title": requirement.title, "note": requirement.note}
        )
        form = sent if is_sent else blank
        lines.append(
            RequirementLine(
                requirement=requirement,
                by_law=requirement.kind in BY_LAW,
                form=None if requirement.pk in named else form,
                is_open=is_sent,
            )
        )
    return lines
