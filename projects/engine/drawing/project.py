"""See boxes from the front, the right side or the top.

The three views lie to each other as in third-angle projection: the right side
stands to the right of the front, front edge to the left; the top lies above
the front, back edge up. None of them mirrors the piece.
"""

from __future__ import annotations

from collections.abc import Sequence

from projects.engine.drawing.page import clean
from projects.engine.drawing.records import Axis, Box, DrawingError, Face, View

CAPTIONS: dict[View, str] = {
    "front": "From the front",
    "side": "From the right side",
    "top": "From above",
}

# The axis to the right in the picture and the axis upwards.
PICTURE_AXES: dict[View, tuple[Axis, Axis]] = {
    "front": ("x", "z"),
    "side": ("y", "z"),
    "top": ("x", "y"),
}


def project(boxes: Sequence[Box], *, view: View) -> tuple[Face, ...]:
    """Turn boxes into the faces a view shows, far ones first.

    Raises
    ------
    DrawingError
        If there is no box, or two have one key.
    """
    check_keys(boxes)
    faces = [_face(box, view) for box in boxes]
    return tuple(sorted(faces, key=lambda face: -face.near))


def check_keys(boxes: Sequence[Box]) -> None:
    """Raise `DrawingError` if there is no box, or two have one key."""
    if not boxes:
        raise DrawingError("there is nothing to draw: the piece has no parts")
    keys = [box.key for box in boxes]
    for key in keys:
        if keys.count(key) > 1:
            raise DrawingError("{key}: drawn twice; keys must differ", key=key)


def _face(box: Box, view: View) -> Face:
    right, up = PICTURE_AXES[view]
    near = {"front": box.y[0], "side": -box.x[1], "top": -box.z[1]}[view]
    return Face(
        key=box.key,
        name=clean(box.name) or box.key,
        u=getattr(box, right),
        v=getattr(box, up),
        near=near,
    )
