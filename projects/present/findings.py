"""What the checks found in a plan, ready for its page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from projects.engine.checks import CHECKS, Amount, Finding, ShopLimits, Words, check
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import Plan
from projects.engine.steps import order_faults
from projects.engine.units import decimal_text
from projects.models import Acceptance
from projects.present.drawings import length_text
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class FindingLine:
    """One finding in words; `note` and `by` where it was accepted."""

    key: str
    title: str
    level: str
    what: str
    why: str
    source: str
    where: tuple[str, ...]
    amounts: tuple[tuple[str, str], ...]
    accepted: bool
    note: str
    by: str


def findings(
    solution: Solution,
    shop: ShopLimits,
    acceptances: Iterable[Acceptance],
    showing: Showing,
) -> tuple[FindingLine, ...]:
    """Return every finding; open ones first, warnings before advice."""
    newest = {said.key: said for said in acceptances}
    accepted = {key for key, said in newest.items() if said.accepted}
    found = check(solution, shop, accepted=accepted)
    lines = [_line(finding, newest.get(finding.key), showing) for finding in found]
    lines += _order_lines(solution.plan, newest)
    order = {"warning": 0, "unknown": 1, "advice": 2}
    return tuple(sorted(lines, key=lambda line: (line.accepted, order[line.level])))


def _order_lines(plan: Plan, newest: Mapping[str, Acceptance]) -> list[FindingLine]:
    """Return what is impossible about the order of the plan's steps."""
    titles = {step.key: step.title for step in plan.steps}
    lines = []
    for fault in order_faults(plan, plan.steps):
        key = "/".join(("steps", fault.kind, *fault.steps, *fault.about))[:400]
        said = newest.get(key)
        accepted = bool(said and said.accepted)
        lines.append(
            FindingLine(
                key=key,
                title=gettext("Order of the steps"),
                level="warning",
                what=fault.what.removesuffix("."),
                why=f"{fault.why} {fault.remedy}",
                source=gettext("the plan's own joints and measurements"),
                where=tuple(titles[step] for step in fault.steps),
                amounts=(),
                accepted=accepted,
                note=said.note if said and accepted else "",
                by=said.by.name if said and accepted else "",
            )
        )
    return lines


def _line(finding: Finding, said: Acceptance | None, showing: Showing) -> FindingLine:
    return FindingLine(
        key=finding.key,
        title=gettext(CHECKS[finding.check].title),
        level=finding.level,
        what=_words(finding.what),
        why=_words(finding.why),
        source=finding.source,
        where=tuple(place.name for place in finding.where),
        amounts=tuple(
            (gettext(amount.name), _amount(amount, showing))
            for amount in finding.amounts
        ),
        accepted=finding.accepted,
        note=said.note if said and finding.accepted else "",
        by=said.by.name if said and finding.accepted else "",
    )


def _words(said: Words) -> str:
    return gettext(said.template).format(**said.values)


def _amount(amount: Amount, showing: Showing) -> str:
    if amount.unit == "mm":
        exact = showing.difference(amount.value)
        return f"{length_text(amount.value, showing)} ({exact.text} {exact.unit})"
    if amount.unit == "N/mm":
        return f"{decimal_text(amount.value, 3)} N/mm"
    return decimal_text(amount.value, 3)
