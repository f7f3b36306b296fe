"""What keeps a step from being done, in words, with where to go about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext, ngettext

from projects.engine.fit.advice import Target, missing_end
from projects.engine.fit.solve import Solution
from projects.engine.plan.steps import STOCK
from projects.engine.shop.machines import MACHINES
from projects.engine.steps.standing import (
    Block,
    BlockKind,
    Course,
    StepStanding,
)
from projects.engine.steps.words import in_a_row, in_text

MOST_NAMED = 2
MARKS: Mapping[BlockKind, str] = {
    "doubt": "doubt",
    "step": "wait",
    "sign_off": "wait",
    "no_machine": "wait",
    "reading": "wait",
    "dry_fit": "wait",
}
"""The mark (see css/notice.css) beside each kind of block."""


@dataclass(frozen=True, kw_only=True)
class Reason:
    """One thing that keeps a step from being done.

    `steps` are those to do first as (key, title), without the last `more` of them;
    `targets` what to log as (target, name).
    """

    kind: BlockKind
    words: str
    steps: tuple[tuple[str, str], ...] = ()
    more: int = 0
    targets: tuple[tuple[str, str], ...] = ()

    @property
    def mark(self) -> str:
        """The mark beside it."""
        return MARKS[self.kind]

    @property
    def to_machines(self) -> bool:
        """Whether the page of the student's machines says more."""
        return self.kind in ("sign_off", "no_machine")


def reasons(
    standing: StepStanding, solution: Solution, course: Course
) -> tuple[Reason, ...]:
    """Return why a step can't be begun, the loudest first."""
    return tuple(_reason(block, solution, course) for block in standing.blocks)


def _reason(block: Block, solution: Solution, course: Course) -> Reason:
    if block.kind == "step":
        first = [
            (n, step)
            for n, step in enumerate(course.steps, start=1)
            if step.key in block.about
        ]
        return Reason(
            kind="step",
            words=waits_for([n for n, _ in first]),
            steps=tuple((step.key, step.title) for _, step in first[:MOST_NAMED]),
            more=max(0, len(first) - MOST_NAMED),
        )
    if block.kind == "doubt":
        doubts = [d for d in solution.in_doubt if str(d.fact) in block.about]
        names = quoted(doubt.name for doubt in doubts)
        return Reason(
            kind="doubt",
            words=gettext("reading in doubt: {names}").format(names=names),
            targets=tuple(
                (
                    str(
                        Target(
                            kind=doubt.fact.kind,
                            key=doubt.fact.key,
                            dimension=doubt.fact.dimension,
                        )
                    ),
                    doubt.name,
                )
                for doubt in doubts
            ),
        )
    if block.kind in ("reading", "dry_fit"):
        targets = log_targets(block.about, solution)
        words = (
            gettext("measure first: {names}")
            if block.kind == "reading"
            else gettext("measure on the dry fit first: {names}")
        )
        names = in_a_row([name for _, name in targets])
        return Reason(kind=block.kind, words=words.format(names=names), targets=targets)
    return Reason(kind=block.kind, words=_machine_words(block))


def _machine_words(block: Block) -> str:
    names = [machine_name(key) for key in block.about]
    if block.kind == "sign_off":
        return gettext("not signed off for the {machine}").format(
            machine=gettext(" or the ").join(names)
        )
    return gettext("this shop has no {machine}").format(
        machine=gettext(" and no ").join(names)
    )


def waits_for(numbers: Sequence[int]) -> str:
    """Return which steps are waited for, by number, the first few and how many more."""
    said = [str(number) for number in numbers[:MOST_NAMED]]
    if len(numbers) > MOST_NAMED:
        more = len(numbers) - MOST_NAMED
        said.append(gettext("{n} more").format(n=more))
    text = ngettext("waits for step {which}", "waits for steps {which}", len(numbers))
    return text.format(which=in_a_row(said))


def machine_name(key: str) -> str:
    """Return a kind of machine as it stands within a sentence."""
    return in_text(gettext(MACHINES[key].name))


def log_targets(keys: Iterable[str], solution: Solution) -> tuple[tuple[str, str], ...]:
    """Return what is logged under the keys a step names, as (target, name).

    The name of a distance that was read at one end says that the other is missing.
    """
    plan, found = solution.plan, []
    for key in keys:
        if key.startswith(STOCK):
            name = plan.stock_by_key[key.removeprefix(STOCK)].name
            found.append((key, name))
        else:
            target, name = (
                Target(kind="distance", key=key),
                plan.distance_by_key[key].name,
            )
            if missing_end(key, solution.readings):
                name = gettext("{name} (the other end too)").format(name=name)
            found.append((str(target), name))
    return tuple(found)


def quoted(names: Iterable[str]) -> str:
    """Return names in quotation marks, one behind the other."""
    return ", ".join(gettext("“{name}”").format(name=name) for name in names)
