"""Draw an elevation: the piece, its sizes and its names."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from fractions import Fraction

from projects.engine.drawing.describe import describe
from projects.engine.drawing.hidden import look
from projects.engine.drawing.layout import Scene, lay_out
from projects.engine.drawing.project import PICTURE_AXES, project
from projects.engine.drawing.records import (
    Axis,
    Box,
    Dimension,
    Drawing,
    DrawingError,
    Interval,
    View,
)
from projects.engine.drawing.settle import check_above_zero


def elevation(
    boxes: Sequence[Box],
    *,
    view: View = "front",
    dimensions: Sequence[Dimension] = (),
    housed: Collection[tuple[str, str]] = (),
    width_mm: float = 180,
    height_mm: float = 200,
    text_mm: float = 4.3,
    least_unit: float = 0,
) -> Drawing:
    """Draw a piece from the front, from the right side or from above.

    Seen outlines are exact, and so is what is hidden. Dimensions along the axis
    the view looks along are left out, so one list serves all views.

    Parameters
    ----------
    boxes
        The parts [mm], each key once.
    view
        "front", "side" (from the right side, front edge to the left) or "top".
    dimensions
        Sizes to show [mm], in any order.
    housed
        Pairs (guest key, host key): where both lie equally near the viewer the
        host is drawn whole and the guest's end in it dashed. Turn a pair round to
        show the guest whole, as a through dado does from the front.
    width_mm
        How wide the drawing will be shown [mm]; a phone of 358 px shows 95 mm.
    height_mm
        How tall it may become [mm], a list of many names apart.
    text_mm
        Text size [mm] at that width. Capitals are about 0.7 of it: 4.3 mm gives
        3 mm capitals.
    least_unit
        Millimetres of the piece in one millimetre of the page, at least [-]. Pass
        another view's `unit` to draw this one no larger.

    Raises
    ------
    DrawingError
        If there is no box, a key comes twice, a dimension runs beyond the piece,
        or a width, height or text size is not above 0.

    Examples
    --------
    >>> def span(low, high):
    ...     return Fraction(low), Fraction(high)
    >>> shelf = Box(
    ...     key="shelf", name="Shelf", x=span(0, 900), y=span(0, 300), z=span(0, 19)
    ... )
    >>> drawing = elevation([shelf], view="top")
    >>> [text.words for text in drawing.texts]
    ['Shelf', 'From above']
    """
    check_above_zero(width_mm=width_mm, height_mm=height_mm, text_mm=text_mm)
    faces = project(boxes, view=view)
    shown = tuple(d for d in dimensions if d.axis in PICTURE_AXES[view])
    for dimension in shown:
        _check_inside(dimension, boxes)
    sight = look(faces, housed=frozenset(housed))
    scene = Scene(
        view=view,
        faces=faces,
        sight=sight,
        dimensions=shown,
        description=describe(faces, sight=sight, dimensions=shown),
    )
    return lay_out(
        scene,
        width_mm=width_mm,
        height_mm=height_mm,
        text_mm=text_mm,
        least_unit=least_unit,
    )


def overall_dimensions(
    boxes: Sequence[Box], *, show: Callable[[Fraction], str]
) -> tuple[Dimension, ...]:
    """Make the overall width, depth and height of a piece [mm], worded by `show`."""
    names: dict[Axis, str] = {
        "x": "Overall width",
        "y": "Overall depth",
        "z": "Overall height",
    }
    made = []
    for axis, name in names.items():
        low, high = _reach(boxes, axis)
        made.append(
            Dimension(axis=axis, low=low, high=high, text=show(high - low), name=name)
        )
    return tuple(made)


def _reach(boxes: Iterable[Box], axis: Axis) -> Interval:
    intervals: list[Interval] = [getattr(box, axis) for box in boxes]
    if not intervals:
        raise DrawingError("there is nothing to draw: the piece has no parts")
    return min(low for low, _ in intervals), max(high for _, high in intervals)


def _check_inside(dimension: Dimension, boxes: Iterable[Box]) -> None:
    low, high = _reach(boxes, dimension.axis)
    if dimension.low < low or dimension.high > high:
        raise DrawingError(
            "dimension {text}: runs beyond the piece on {axis}"
            " (from {low} to {high} mm; the piece from {first} to {last} mm)",
            text=dimension.text,
            axis=dimension.axis,
            low=dimension.low,
            high=dimension.high,
            first=low,
            last=high,
        )
