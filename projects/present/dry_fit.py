"""The dry fit of a build: where to measure, and what follows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from projects import adapters
from projects.engine.fit.advice import Target
from projects.engine.fit.dry_fit import (
    DryMeasure,
    FittedSize,
    apart,
    dry_measures,
)
from projects.engine.fit.solve import Solution
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import DIMENSIONS, Dimension
from projects.engine.units import Shown
from projects.models import Reading
from projects.present.history import row_text
from projects.present.log_form import end_words
from projects.present.squareness import (
    FrameLine,
    SkewLine,
    diagonal_names,
    frame_line,
    skew_line,
)
from projects.present.sums import SumLine, number_text, term_lines
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class EndLine:
    """One end to measure at: `read` is what was read there, "" where nothing was."""

    point: int
    where: str
    read: str


@dataclass(frozen=True, kw_only=True)
class NearLine:
    """The end a part sits at: where, what was read there, and the size by it alone."""

    where: str
    read: str
    shown: Shown


@dataclass(frozen=True, kw_only=True)
class FittedLine:
    """A size cut to the measurement; `state` is waits, one_end, apart, free or cut.

    `apart` is free too, but to the mean of two ends that differ much: `near` is the end
    that the part sits at, None where it lies between them. `lines` is its sum, empty
    until it was measured, and `total` its end. `added` is None where nothing comes to
    the measurement; `is_less` where it goes off.
    """

    name: str
    dimension: Dimension
    shown: Shown
    added: Shown | None
    is_less: bool
    lines: tuple[SumLine, ...]
    total: str
    state: str
    near: NearLine | None


@dataclass(frozen=True, kw_only=True)
class MeasureLine:
    """One distance to measure on the dry assembly, with all that hangs on it.

    `apart` is how far its ends differ, `apart_much` whether that asks for a look.
    """

    key: str
    name: str
    along: str
    ends: tuple[EndLine, ...]
    mean: Shown | None
    expected: Shown | None
    missing: str
    apart: Shown | None
    apart_much: bool
    fitted: tuple[FittedLine, ...]
    frame: FrameLine
    diagonals: tuple[str, str]
    skew: SkewLine | None


@dataclass(frozen=True, kw_only=True)
class DryFitPage:
    """All that the page shows; `together` are the parts to put together first."""

    together: tuple[str, ...]
    measures: tuple[MeasureLine, ...]

    @property
    def free(self) -> tuple[FittedLine, ...]:
        """What may be cut to the dry fit now."""
        lines = (line for measure in self.measures for line in measure.fitted)
        return tuple(line for line in lines if line.state in ("free", "apart"))


def dry_fit_page(
    rows: Sequence[Reading], solution: Solution, showing: Showing
) -> DryFitPage:
    """Return the dry fit of a build solved from `rows`."""
    measures = dry_measures(solution)
    later = {part for part, _dimension in solution.system.waiting}
    later |= {fitted.part.key for measure in measures for fitted in measure.fitted}
    return DryFitPage(
        together=tuple(p.name for p in solution.plan.parts if p.key not in later),
        measures=tuple(_measure(rows, solution, showing, m) for m in measures),
    )


def _measure(
    rows: Sequence[Reading], solution: Solution, showing: Showing, measure: DryMeasure
) -> MeasureLine:
    key, along = measure.distance.key, measure.along.name
    mm = solution.distances[key]
    shown = showing.of(mm) if mm is not None else None
    missing = measure.missing_end
    ends = _ends(rows, measure)
    return MeasureLine(
        key=key,
        name=measure.distance.name,
        along=along,
        ends=ends,
        mean=shown if measure.is_measured else None,
        expected=None if measure.is_measured else shown,
        missing=end_words(along, measure.ends[missing - 1]) if missing else "",
        apart=showing.difference(measure.apart_mm) if measure.apart_mm else None,
        apart_much=measure.distance in apart(solution),
        fitted=tuple(
            _fitted(solution, showing, measure, fitted, ends)
            for fitted in measure.fitted
        ),
        frame=frame_line(showing, measure.frame),
        diagonals=diagonal_names(measure),
        skew=skew_line(rows, showing, measure, mm),
    )


def _ends(rows: Sequence[Reading], measure: DryMeasure) -> tuple[EndLine, ...]:
    target = str(Target(kind="distance", key=measure.distance.key))
    read = {
        row.point: row_text(row)
        for row in adapters.current_rows(rows)
        if row.target == target
    }
    return tuple(
        EndLine(
            point=point,
            where=end_words(measure.along.name, face),
            read=read.get(point, ""),
        )
        for point, face in enumerate(measure.ends, start=1)
    )


def _fitted(
    solution: Solution,
    showing: Showing,
    measure: DryMeasure,
    fitted: FittedSize,
    ends: Sequence[EndLine],
) -> FittedLine:
    known = all(item in solution.values for _number, item in fitted.form.terms)
    terms = solution.terms(fitted.form) if measure.is_measured and known else ()
    total, _exact = number_text(fitted.mm, showing.unit)
    return FittedLine(
        name=fitted.part.name,
        dimension=fitted.dimension,
        shown=showing.of(fitted.mm),
        added=showing.of(abs(fitted.added_mm)) if fitted.added_mm else None,
        is_less=fitted.added_mm < 0,
        lines=term_lines(solution, terms, showing.unit),
        total=f"{total} {showing.unit}",
        state=_state(solution, measure, fitted),
        near=_near(showing, fitted, ends),
    )


def _near(
    showing: Showing, fitted: FittedSize, ends: Sequence[EndLine]
) -> NearLine | None:
    if fitted.near_end is None or fitted.near_mm is None:
        return None
    end = ends[fitted.near_end - 1]
    return NearLine(where=end.where, read=end.read, shown=showing.of(fitted.near_mm))


def _state(solution: Solution, measure: DryMeasure, fitted: FittedSize) -> str:
    cut = Fact(kind="cut", key=fitted.part.key, dimension=fitted.dimension)
    if cut in solution.readings.facts:
        return "cut"
    if measure.missing_end is not None:
        return "one_end"
    # a part waits as a whole: its length alone is no use
    waits = any(
        (fitted.part.key, dimension) in solution.system.waiting
        for dimension in DIMENSIONS
    )
    if not measure.is_measured or waits:
        return "waits"
    return "apart" if measure.distance in apart(solution) else "free"
