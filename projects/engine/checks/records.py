"""What a check says, and what a check is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from projects.engine.plan.records import Joint, Part, Plan, Stock

if TYPE_CHECKING:
    from projects.engine.checks.look import Look

Level = Literal["warning", "advice", "unknown"]
"""Something to change; something to mind; something that can't be told."""

Unit = Literal["mm", "N/mm", "-"]
Kind = Literal["part", "joint", "stock"]
PRACTICE = "common practice, no source"


@dataclass(frozen=True, kw_only=True)
class Words:
    """Keep a sentence as a `str.format` template and what fills it.

    A caller who translates can look the template up before filling it.
    """

    template: str
    values: dict[str, str]

    def __str__(self) -> str:
        return self.template.format(**self.values)


def words(template: str, **values: str) -> Words:
    """Return a sentence from its template and what fills it."""
    return Words(template=template, values=values)


@dataclass(frozen=True, kw_only=True)
class Where:
    """Point at a part, joint or stock by its key, with its name."""

    kind: Kind
    key: str
    name: str

    def __str__(self) -> str:
        return f"{self.kind}:{self.key}"


@dataclass(frozen=True, kw_only=True)
class Amount:
    """Hold one number of a finding: what it is, exactly, and its unit."""

    name: str
    value: Fraction
    unit: Unit = "mm"


@dataclass(frozen=True, kw_only=True)
class Finding:
    """Say what a check found, where, why it matters and where that comes from.

    `key` is made of the check and of the places it is about, never of numbers, so
    that an accepted finding stays accepted while other things change. `where` may
    name more places than the key.
    """

    check: str
    key: str
    level: Level
    what: Words
    why: Words
    source: str
    where: tuple[Where, ...]
    amounts: tuple[Amount, ...] = ()
    accepted: bool = False


@dataclass(frozen=True, kw_only=True)
class Check:
    """Describe one check: its stable key, its title and how it looks."""

    key: str
    title: str
    find: Callable[[Look], Iterable[Finding]]


def at_part(part: Part) -> Where:
    """Point at a part."""
    return Where(kind="part", key=part.key, name=part.name)


def at_joint(plan: Plan, joint: Joint) -> Where:
    """Point at a joint."""
    return Where(kind="joint", key=joint.key, name=plan.joint_name(joint))


def at_stock(stock: Stock) -> Where:
    """Point at a stock."""
    return Where(kind="stock", key=stock.key, name=stock.name)


def finding_key(check: str, about: Iterable[Where], *, tag: str = "") -> str:
    """Return the stable key of a finding: the check, its places in order, a tag.

    >>> finding_key("lip", [Where(kind="joint", key="a", name="A")], tag="beside")
    'lip/joint:a/beside'
    """
    places = "+".join(sorted(map(str, about)))
    return "/".join(filter(None, (check, places, tag)))
