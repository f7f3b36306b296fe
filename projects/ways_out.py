"""Ways out of miscuts: which wait for a decision, and what their details hold.

`details` keeps what was proposed as it then was: names and exact lengths, as texts.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import cast

from django.db.models import Exists, OuterRef, QuerySet

from projects import progress
from projects.engine.fit.miscut import Blank, LetGive, Miscut, UseAs
from projects.engine.fit.system import SizeKey
from projects.engine.units import Length, exact_text, mm_per
from projects.engine.units.length import UnitSystem
from projects.models import Build, Decision, Reading, WayOut

Details = dict[str, str]


def waiting() -> QuerySet[WayOut]:
    """Return the proposals that wait for an instructor.

    Not those that a newer proposal follows, nor those about a cut that a newer reading
    follows.
    """
    newer = WayOut.objects.filter(
        build=OuterRef("build"),
        reading__target=OuterRef("reading__target"),
        pk__gt=OuterRef("pk"),
    )
    read_again = Reading.objects.filter(
        build=OuterRef("build"),
        target=OuterRef("reading__target"),
        pk__gt=OuterRef("reading"),
    )
    return WayOut.objects.filter(~Exists(newer), ~Exists(read_again), decisions=None)


def is_cut_of(row: Reading, part: str) -> bool:
    """Tell whether a row says a size as cut of a part, written as `cut:shelf`."""
    return row.target.rpartition(".")[0] == part


def written_with(decision: Decision, row: Reading) -> bool:
    """Tell whether a row follows from a decision: one moment, one hand."""
    return (row.at, row.by_id) == (decision.at, decision.by_id)


def read_since(
    way: WayOut, rows: Iterable[Reading], decisions: Iterable[Decision]
) -> bool:
    """Tell whether what a proposal is about was measured again, or set aside.

    What its own `decisions` wrote is not meant.
    """
    decided = {(decision.at, decision.by_id) for decision in decisions}
    return any(
        row.target == way.reading.target
        and row.pk > way.reading_id
        and (row.at, row.by_id) not in decided
        for row in rows
    )


def agreed_to_cut(ways: Iterable[WayOut]) -> frozenset[str]:
    """Return the parts, by key, that the newest proposals have agreed to cut again.

    `ways` come oldest first, with their decisions.
    """
    newest = {way.reading.target: way for way in ways}
    return frozenset(
        target.partition(":")[2].rpartition(".")[0]
        for target, way in newest.items()
        if way.kind != WayOut.Kind.LET_GIVE
        and (decisions := sorted(way.decisions.all(), key=lambda row: row.pk))
        and decisions[-1].agreed
    )


def marked_as_cut(build: Build, ways: Sequence[WayOut]) -> frozenset[SizeKey]:
    """Return the sizes that count as cut, as their steps are marked; costs a query.

    Not those of parts that it was agreed to cut again.
    """
    again = agreed_to_cut(ways)
    sizes = progress.marked_sizes(build)
    return frozenset(size for size in sizes if size[0] not in again)


def wanted_details(found: Miscut, unit: UnitSystem) -> Details:
    """Return what every proposal keeps: what was wanted and what it came out as."""
    return {
        "wanted": exact_text(found.wanted_mm, unit=unit),
        "cut": exact_text(found.cut_mm, unit=unit),
    }


def cut_again_details(
    blank: Blank, length: Length | None, width: Length | None, unit: UnitSystem
) -> Details:
    """Return what cutting again takes, and the stock that is left for it if any."""
    details = {
        "stock": blank.stock,
        "blank_length": exact_text(blank.length_mm, unit=unit),
        "blank_width": exact_text(blank.width_mm, unit=unit),
    }
    if length and width:
        details["left_length"] = exact_text(length.mm, unit=length.unit)
        details["left_width"] = exact_text(width.mm, unit=width.unit)
    return details


def let_give_details(way: LetGive, unit: UnitSystem) -> Details:
    """Return which distance gives, and from what to what."""
    [giving] = way.outcome.giving
    return {
        "distance": way.distance.key,
        "name": way.distance.name,
        "before": exact_text(giving.before_mm, unit=unit),
        "after": exact_text(giving.after_mm, unit=unit),
    }


def use_as_details(way: UseAs, unit: UnitSystem) -> Details:
    """Return which part it still serves as, and what comes off it for that."""
    return {
        "part": way.part.key,
        "name": way.part.name,
        "trim_length": exact_text(way.trim_length_mm, unit=unit),
        "trim_width": exact_text(way.trim_width_mm, unit=unit),
    }


def mm_of(details: Details, name: str) -> Fraction | None:
    """Return a length kept in details [mm]; None where there is none."""
    if name not in details:
        return None
    number, _, unit = details[name].rpartition(" ")
    return Fraction(number) * mm_per(cast(UnitSystem, unit))
