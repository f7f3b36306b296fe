"""The piece drawn from the front and from the side, with its sizes."""

from __future__ import annotations

from fractions import Fraction

from projects.engine.drawing import (
    Dimension,
    elevation,
    overall_dimensions,
    pictorial,
    svg,
)
from projects.engine.drawing.records import View
from projects.engine.fit.solve import Solution
from projects.engine.piece import boxes, housed
from projects.engine.plan.records import Distance
from projects.engine.units import decimal_text, mm_per, nearest_mark, tape_text
from projects.showing import Showing

FONT = "'National Park', sans-serif"
MOST_PARTS = 60
"""Above this many parts a drawing this small shows nothing anybody could read."""


def piece_drawings(
    solution: Solution,
    showing: Showing,
    *,
    widths_mm: tuple[float, float] = (120, 120),
) -> tuple[str, ...]:
    """Return SVGs of the front and the right side, so wide on paper [mm].

    The two are drawn to one scale. Empty where there are too many parts.
    """
    if len(solution.plan.parts) > MOST_PARTS:
        return ()
    piece, hidden = boxes(solution), housed(solution)
    overall = overall_dimensions(piece, show=lambda mm: length_text(mm, showing))
    # a distance that spans the whole piece is drawn once, as the overall size
    spans = {(line.axis, line.low, line.high): line for line in overall}
    for line in _distances(solution, showing):
        spans.setdefault((line.axis, line.low, line.high), line)
    dimensions = tuple(spans.values())
    unit = 0.0
    drawings = []
    views: tuple[View, View] = ("front", "side")
    for view, width_mm in zip(views, widths_mm, strict=True):
        drawing = elevation(
            piece,
            view=view,
            dimensions=dimensions,
            housed=hidden,
            width_mm=width_mm,
            least_unit=unit,
        )
        unit = drawing.unit
        drawings.append(svg(drawing, font_family=FONT))
    return tuple(drawings)


def pictorial_drawing(solution: Solution, showing: Showing) -> str:
    """Return the SVG of the piece seen from front, right and above; "" for too many."""
    if len(solution.plan.parts) > MOST_PARTS:
        return ""
    piece = boxes(solution)
    picture = pictorial(
        piece,
        housed=housed(solution),
        overall=overall_dimensions(piece, show=lambda mm: length_text(mm, showing)),
        width_mm=120,
    )
    return svg(picture, font_family=FONT)


def length_text(mm: Fraction, showing: Showing) -> str:
    """Return a length as plain text, such as `35 1/4 full` or `895.4 mm`."""
    if showing.style == "mm":
        return f"{decimal_text(mm, 1)} mm"
    if showing.style == "in":
        return f"{decimal_text(mm / mm_per('in'), 3)} in"
    mark = nearest_mark(mm, tape=showing.tape)
    return tape_text(mark) + ("" if mark.off == "exact" else f" {mark.off}")


def _distances(solution: Solution, showing: Showing) -> list[Dimension]:
    """Return the plan's distances as dimension lines, where they run forwards."""
    lines = []
    for distance in solution.plan.distances:
        low, high = _ends(solution, distance)
        mm = solution.distances[distance.key]
        if mm is not None and low < high:
            lines.append(
                Dimension(
                    axis=distance.start.axis,
                    low=low,
                    high=high,
                    text=length_text(mm, showing),
                    name=distance.name,
                )
            )
    return lines


def _ends(solution: Solution, distance: Distance) -> tuple[Fraction, Fraction]:
    positions = solution.system.positions
    low = positions[distance.start].value(solution.values)
    high = positions[distance.end].value(solution.values)
    return low, high
