"""Whether a dry assembly is square: its frame, and what its diagonals tell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.utils.translation import gettext as _

from projects import adapters
from projects.engine.fit.dry_fit import DryMeasure
from projects.engine.fit.squareness import Frame, skew
from projects.engine.plan.records import FACES, FaceName
from projects.engine.units import Shown
from projects.models import Reading
from projects.present.history import row_text
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class FrameLine:
    """The frame whose diagonals are measured; `closed_by` is empty where it is open.

    `diagonal` is how long both are once it is square.
    """

    sides: tuple[str, str]
    closed_by: tuple[str, ...]
    diagonal: Shown | None


@dataclass(frozen=True, kw_only=True)
class SkewLine:
    """How far out of square the dry assembly is; `pull` is "" where it is square."""

    first: str
    second: str
    pull: str
    square: Shown
    lean: Shown
    is_square: bool


def frame_line(showing: Showing, frame: Frame) -> FrameLine:
    """Return the frame in words."""
    mm = frame.diagonal_mm
    one, other = frame.sides
    return FrameLine(
        sides=(one.name, other.name),
        closed_by=tuple(part.name for part in frame.closed_by or ()),
        diagonal=None if mm is None else showing.of(Fraction(mm)),
    )


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


def skew_line(
    rows: Sequence[Reading],
    showing: Showing,
    measure: DryMeasure,
    width_mm: Fraction | None,
) -> SkewLine | None:
    """Return what the two diagonals tell; None without both, or where they can't be."""
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
