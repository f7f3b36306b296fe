"""What the checks found in a plan, ready for its page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext

from projects.engine.checks import CHECKS, Amount, Finding, ShopLimits, Words, check
from projects.engine.fit.solve import Solution
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
    order = {"warning": 0, "unknown": 1, "advice": 2}
    ordered = sorted(found, key=lambda f: (f.accepted, order[f.level]))
    return tuple(
        _line(finding, newest.get(finding.key), showing) for finding in ordered
    )


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
