"""A miscut's page: what it changes, the ways out side by side, and the record."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from projects.adapters import read_target
from projects.engine.fit.advice import Target
from projects.engine.fit.miscut import Change, LetGive, Miscut, Outcome, miscuts
from projects.engine.fit.solve import Solution
from projects.engine.fit.system import SizeKey
from projects.engine.plan.records import Plan
from projects.engine.units import Shown
from projects.models import Build, Decision, Reading, WayOut
from projects.present.log_form import target_name
from projects.showing import Showing
from projects.ways_out import mm_of, read_since


@dataclass(frozen=True, kw_only=True)
class MiscutLine:
    """A size as cut that doesn't fit, for a notice."""

    part: str
    name: str
    dimension: str
    off: Shown
    over: bool


@dataclass(frozen=True, kw_only=True)
class Before:
    """Something that changes: what it was and what it becomes."""

    name: str
    dimension: str
    before: Shown
    after: Shown


@dataclass(frozen=True, kw_only=True)
class Follows:
    """What follows from a state: sizes not cut yet that change, distances that give.

    `stuck` are sizes that would change, of parts whose step is marked as done.
    """

    changes: tuple[Before, ...]
    stuck: tuple[Before, ...]
    giving: tuple[Before, ...]


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way out; `value` is what its radio sends.

    `length` and `width` are the blank's, or what comes off; None for nothing.
    `as_it_is` where it is what follows anyway.
    """

    value: str
    kind: str
    name: str = ""
    stock: str = ""
    length: Shown | None = None
    width: Shown | None = None
    follows: Follows | None = None
    as_it_is: bool = False


@dataclass(frozen=True, kw_only=True)
class MiscutPage:
    """All that the page shows of one miscut."""

    wanted: Shown
    cut: Shown
    off: Shown
    over: bool
    follows: Follows
    ways: tuple[Way, ...]


@dataclass(frozen=True, kw_only=True)
class Told:
    """A way out as it was proposed, in shown sizes.

    `state` is agreed, not_agreed, waits or followed.
    """

    row: WayOut
    part: str
    dimension: str
    target: str
    state: str
    is_newest: bool
    name: str
    wanted: Shown | None
    cut: Shown | None
    first: Shown | None
    second: Shown | None
    left_length: Shown | None
    left_width: Shown | None
    decisions: tuple[Decision, ...]


def miscut_lines(solution: Solution, showing: Showing) -> tuple[MiscutLine, ...]:
    """Return a line for each size as cut that doesn't fit."""
    return tuple(
        MiscutLine(
            part=fact.key,
            name=solution.plan.part_by_key[fact.key].name,
            dimension=fact.dimension or "",
            off=showing.difference(abs(off_mm)),
            over=off_mm > 0,
        )
        for fact, off_mm in miscuts(solution)
    )


def miscut_page(found: Miscut, plan: Plan, showing: Showing) -> MiscutPage:
    """Return the page of one miscut."""
    return MiscutPage(
        wanted=showing.of(found.wanted_mm),
        cut=showing.of(found.cut_mm),
        off=showing.difference(abs(found.off_mm)),
        over=found.off_mm > 0,
        follows=_follows(found.as_it_is, showing),
        ways=(
            Way(
                value="cut_again",
                kind="cut_again",
                name=found.part.name,
                stock=plan.stock_by_key[found.blank.stock].name,
                length=showing.of(found.blank.length_mm),
                width=showing.of(found.blank.width_mm),
            ),
            *(_let_give(way, found, showing) for way in found.let_give),
            *(
                Way(
                    value=f"use_as:{way.part.key}",
                    kind="use_as",
                    name=way.part.name,
                    length=showing.of(mm) if (mm := way.trim_length_mm) else None,
                    width=showing.of(mm) if (mm := way.trim_width_mm) else None,
                )
                for way in found.use_as
            ),
        ),
    )


def _let_give(way: LetGive, found: Miscut, showing: Showing) -> Way:
    return Way(
        value=f"let_give:{way.distance.key}",
        kind="let_give",
        name=way.distance.name,
        follows=_follows(way.outcome, showing),
        as_it_is=way.outcome == found.as_it_is,
    )


def _follows(outcome: Outcome, showing: Showing) -> Follows:
    return Follows(
        changes=_before(outcome.changes, showing),
        stuck=_before(outcome.stuck, showing),
        giving=tuple(
            Before(
                name=giving.distance.name,
                dimension="",
                before=showing.of(giving.before_mm),
                after=showing.of(giving.after_mm),
            )
            for giving in outcome.giving
        ),
    )


def _before(changes: Iterable[Change], showing: Showing) -> tuple[Before, ...]:
    return tuple(
        Before(
            name=change.part.name,
            dimension=change.dimension,
            before=showing.of(change.before_mm),
            after=showing.of(change.after_mm),
        )
        for change in changes
    )


def marked_names(solution: Solution, marked: Collection[SizeKey]) -> tuple[str, ...]:
    """Return the parts that count as cut as marked, though their cut isn't logged."""
    logged = {fact.key for fact in solution.readings.facts if fact.kind == "cut"}
    return tuple(
        part.name
        for part in solution.plan.parts
        if (part.key, "length") in marked and part.key not in logged
    )


def ways_of(build: Build) -> list[WayOut]:
    """Return a build's proposals with their decisions, oldest first: two queries."""
    found = WayOut.objects.filter(build=build).select_related("by", "reading")
    return list(found.prefetch_related("decisions__by"))


def told_ways(
    ways: Sequence[WayOut], rows: Sequence[Reading], plan: Plan, showing: Showing
) -> list[Told]:
    """Return proposals newest first; `rows` are all readings of the build."""
    newest_way = {way.reading.target: way.pk for way in ways}
    return [
        _told(
            way,
            plan,
            showing,
            is_newest=newest_way[way.reading.target] == way.pk
            and not read_since(way, rows, way.decisions.all()),
        )
        for way in reversed(ways)
    ]


_FIRST = {
    "cut_again": ("blank_length", "blank_width"),
    "let_give": ("before", "after"),
    "use_as": ("trim_length", "trim_width"),
}


def _told(way: WayOut, plan: Plan, showing: Showing, *, is_newest: bool) -> Told:
    target: Target | None = read_target(way.reading.target, plan)
    decisions = tuple(sorted(way.decisions.all(), key=lambda row: -row.pk))

    def size(name: str) -> Shown | None:
        mm = mm_of(way.details, name)
        return showing.of(mm) if mm else None

    first, second = _FIRST[way.kind]
    state = "waits" if is_newest else "followed"
    if decisions:
        state = "agreed" if decisions[0].agreed else "not_agreed"
    return Told(
        row=way,
        part=target_name(target, plan) if target else way.reading.target,
        dimension=(target.dimension or "") if target else "",
        target=way.reading.target,
        state=state,
        is_newest=is_newest,
        name=way.details.get("name", ""),
        wanted=size("wanted"),
        cut=size("cut"),
        first=size(first),
        second=size(second),
        left_length=size("left_length"),
        left_width=size("left_width"),
        decisions=decisions,
    )
