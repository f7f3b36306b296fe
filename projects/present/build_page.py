"""A build's page: what to log next, what needs a look, and every size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from projects import adapters
from projects.engine.fit.advice import Target, next_to_log
from projects.engine.fit.dry_fit import apart
from projects.engine.fit.solve import Doubt, Solution
from projects.engine.fit.system import SizeKey
from projects.engine.plan.records import Plan
from projects.engine.units import Shown, mm_per
from projects.models import Build, Reading
from projects.present.history import row_text
from projects.present.log_form import LogForm, log_form, target_name
from projects.present.miscut import MiscutLine, miscut_lines
from projects.present.size_table import PartRow, size_table
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class DoubtLine:
    """A fact the others contradict, in shown sizes."""

    name: str
    target: str
    read: Shown
    comes_out: Shown
    off: Shown
    over: bool
    disagrees_with: tuple[str, ...]
    agrees: bool


@dataclass(frozen=True, kw_only=True)
class DistanceLine:
    """A distance: what it comes out as, and by how much it gives.

    `visibly` where that is half a mark of the plan's tape or more.
    """

    key: str
    name: str
    shown: Shown | None
    wanted: Shown | None
    gives: Shown | None
    visibly: bool
    over: bool
    dry_fit: bool
    measured: bool


@dataclass(frozen=True, kw_only=True)
class ReadingLine:
    """What stands of one thing measured: its points as (number, exact text)."""

    target: str
    kind: str
    name: str
    dimension: str
    points: tuple[tuple[int, str], ...]
    add_point: int


@dataclass(frozen=True, kw_only=True)
class BuildPage:
    """All that the live part of the page shows.

    `apart` names what was measured on the dry assembly at ends that differ much.
    """

    build: Build
    showing: Showing
    form: LogForm | None
    parts: tuple[PartRow, ...]
    doubts: tuple[DoubtLine, ...]
    miscuts: tuple[MiscutLine, ...]
    distances: tuple[DistanceLine, ...]
    readings: tuple[ReadingLine, ...]
    newest: Reading | None
    apart: tuple[str, ...]
    cut_now: tuple[tuple[str, Shown], ...]

    @property
    def units(self) -> str:
        """The plan's units."""
        return adapters.plan_of(self.build.revision).units

    @property
    def waiting_parts(self) -> tuple[str, ...]:
        """The names of the parts that wait for the dry fit."""
        return tuple(part.name for part in self.parts if part.state == "waits")

    @property
    def giving(self) -> tuple[DistanceLine, ...]:
        """The wanted distances that give by more than half a mark."""
        return tuple(line for line in self.distances if line.gives and line.visibly)


def build_page(
    build: Build,
    rows: Sequence[Reading],
    solution: Solution,
    showing: Showing,
    *,
    target: Target | None = None,
    point: int | None = None,
    opened: SizeKey | None = None,
) -> BuildPage:
    """Return the page of a build solved from `rows`."""
    return BuildPage(
        build=build,
        showing=showing,
        form=log_form(solution, showing, target=target, point=point, rows=rows),
        parts=size_table(solution, showing, opened=opened),
        doubts=tuple(_doubt(doubt, showing) for doubt in solution.in_doubt),
        miscuts=miscut_lines(solution, showing),
        distances=distance_lines(solution, showing),
        readings=reading_lines(rows, solution),
        newest=rows[-1] if rows else None,
        apart=tuple(distance.name for distance in apart(solution)),
        cut_now=tuple(
            (
                solution.plan.part_by_key[key].name,
                showing.of(solution.sizes[key, "length"]),
            )
            for key in next_to_log(solution).cut_now
        ),
    )


def _doubt(doubt: Doubt, showing: Showing) -> DoubtLine:
    fact = doubt.fact
    target = Target(kind=fact.kind, key=fact.key, dimension=fact.dimension)
    return DoubtLine(
        name=doubt.name,
        target=str(target),
        read=showing.of(doubt.reading.length.mm),
        comes_out=showing.of(doubt.comes_out_mm),
        off=showing.difference(abs(doubt.off_mm)),
        over=doubt.off_mm > 0,
        disagrees_with=doubt.disagrees_with,
        agrees=doubt.agrees,
    )


def is_visible(mm: Fraction | None, plan: Plan) -> bool:
    """Tell whether a difference [mm] is half a mark of the plan's tape or more."""
    return mm is not None and 2 * plan.tape * abs(mm) >= mm_per("in")


def distance_lines(solution: Solution, showing: Showing) -> tuple[DistanceLine, ...]:
    """Return every distance of the plan with what it comes out as."""
    measured = {fact.key for fact in solution.readings.facts if fact.kind == "distance"}
    lines = []
    for distance in solution.plan.distances:
        mm = solution.distances[distance.key]
        gives = solution.gives_mm(distance.key)
        lines.append(
            DistanceLine(
                key=distance.key,
                name=distance.name,
                shown=showing.of(mm) if mm is not None else None,
                wanted=showing.of(distance.value.mm) if distance.value else None,
                gives=showing.difference(abs(gives)) if gives else None,
                visibly=is_visible(gives, solution.plan),
                over=bool(gives and gives > 0),
                dry_fit=distance.dry_fit,
                measured=distance.key in measured,
            )
        )
    return tuple(lines)


def reading_lines(
    rows: Sequence[Reading], solution: Solution
) -> tuple[ReadingLine, ...]:
    """Return what stands: every stock first, then whatever else was measured."""
    points: dict[str, list[Reading]] = {
        str(Target(kind="stock", key=stock.key)): [] for stock in solution.plan.stock
    }
    for row in adapters.current_rows(rows):
        points.setdefault(row.target, []).append(row)
    lines = []
    for text, found in points.items():
        target = adapters.read_target(text, solution.plan)
        # diagonals say nothing about sizes, and have a page of their own
        if target is None or target.kind == "diagonal":
            continue
        ordered = sorted(found, key=lambda row: row.point)
        lines.append(
            ReadingLine(
                target=text,
                kind=target.kind,
                name=target_name(target, solution.plan),
                dimension=target.dimension or "",
                points=tuple((row.point, row_text(row)) for row in ordered),
                add_point=ordered[-1].point + 1 if ordered else 1,
            )
        )
    return tuple(lines)
