"""The dry fit of a build: where to measure, what follows, and is it square."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.utils.translation import gettext as _

from projects import adapters
from projects.engine.fit.advice import ENDS, Target
from projects.engine.fit.dry_fit import (
    DryMeasure,
    FittedSize,
    dry_measures,
    ends_differ,
    skew,
)
from projects.engine.fit.solve import Solution
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import DIMENSIONS, FACES, Dimension, FaceName
from projects.engine.units import Shown
from projects.models import Reading
from projects.present.history import row_text
from projects.present.log_form import end_words
from projects.present.sums import SumLine, number_text, term_lines
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class EndLine:
    """One end to measure at: `read` is what was read there, "" where nothing was."""

    point: int
    where: str
    read: str


@dataclass(frozen=True, kw_only=True)
class FittedLine:
    """A size cut to the measurement; `state` is waits, one_end, free or cut.

    `lines` is its sum, empty until something was measured, and `total` its end.
    """

    name: str
    dimension: Dimension
    shown: Shown
    added: Shown
    lines: tuple[SumLine, ...]
    total: str
    state: str


@dataclass(frozen=True, kw_only=True)
class SkewLine:
    """How far out of square the dry assembly is; `pull` is "" where it is square."""

    first: str
    second: str
    pull: str
    square: Shown
    lean: Shown
    is_square: bool


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
        return tuple(line for line in lines if line.state == "free")


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
    lengths = [point.length.mm for point in measure.points]
    both = len(lengths) == ENDS
    missing = measure.missing_end
    return MeasureLine(
        key=key,
        name=measure.distance.name,
        along=along,
        ends=_ends(rows, measure),
        mean=shown if measure.is_measured else None,
        expected=None if measure.is_measured else shown,
        missing=end_words(along, measure.ends[missing - 1]) if missing else "",
        apart=showing.difference(measure.apart_mm) if measure.apart_mm else None,
        apart_much=both and ends_differ(lengths[0], lengths[1]),
        fitted=tuple(_fitted(solution, showing, measure, f) for f in measure.fitted),
        diagonals=diagonal_names(measure),
        skew=_skew(rows, showing, measure, mm),
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
    solution: Solution, showing: Showing, measure: DryMeasure, fitted: FittedSize
) -> FittedLine:
    known = all(item in solution.values for _number, item in fitted.form.terms)
    terms = solution.terms(fitted.form) if measure.is_measured and known else ()
    total, _exact = number_text(fitted.mm, showing.unit)
    return FittedLine(
        name=fitted.part.name,
        dimension=fitted.dimension,
        shown=showing.of(fitted.mm),
        added=showing.of(abs(fitted.added_mm)),
        lines=term_lines(solution, terms, showing.unit),
        total=f"{total} {showing.unit}",
        state=_state(solution, measure, fitted),
    )


def _state(solution: Solution, measure: DryMeasure, fitted: FittedSize) -> str:
    cut = Fact(kind="cut", key=fitted.part.key, dimension=fitted.dimension)
    if cut in solution.readings.facts:
        return "cut"
    # a part waits as a whole: its length alone is no use
    waits = any(
        (fitted.part.key, dimension) in solution.system.waiting
        for dimension in DIMENSIONS
    )
    if not measure.is_measured or waits:
        return "waits"
    return "free" if measure.is_complete else "one_end"


def diagonal_names(measure: DryMeasure) -> tuple[str, str]:
    """Return what the two diagonals go from and to, the first one first."""
    low, high = measure.ends
    start = measure.distance.start
    near, far = (name for name, (axis, _high) in FACES.items() if axis == start.axis)
    return (
        _("%(one)s to %(other)s")
        % {"one": _corner(high, near), "other": _corner(low, far)},
        _("%(one)s to %(other)s")
        % {"one": _corner(high, far), "other": _corner(low, near)},
    )


def _corner(end: FaceName, side: FaceName) -> str:
    said = {
        "left": _("left"),
        "right": _("right"),
        "front": _("front"),
        "back": _("back"),
        "bottom": _("bottom"),
        "top": _("top"),
    }
    return f"{said[end]} {said[side]}"


def _skew(
    rows: Sequence[Reading],
    showing: Showing,
    measure: DryMeasure,
    width_mm: Fraction | None,
) -> SkewLine | None:
    pair = adapters.diagonals_of(rows, measure.distance.key)
    if pair is None or width_mm is None:
        return None
    first_mm, second_mm = pair[0].mm, pair[1].mm
    # one may have been logged before the width was read anew
    if (first_mm**2 + second_mm**2) / 2 <= width_mm**2:
        return None
    found = skew(first_mm=first_mm, second_mm=second_mm, width_mm=width_mm)
    names = diagonal_names(measure)
    pull = {"first": names[0], "second": names[1], "neither": ""}[found.longer]
    return SkewLine(
        first=row_text(pair[0]),
        second=row_text(pair[1]),
        pull=pull,
        square=showing.of(Fraction(found.square_mm)),
        lean=showing.difference(found.lean_mm),
        is_square=found.longer == "neither",
    )
