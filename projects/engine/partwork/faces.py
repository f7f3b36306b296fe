"""The cuts on a part as rectangles on its faces, each face as one sees it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from projects.engine.drawing.worked import (
    Corner,
    PartWork,
    SlotMark,
    WorkedFace,
    WorkNote,
    outline,
)
from projects.engine.fit.solve import Solution
from projects.engine.partwork.cuts import cuts_on
from projects.engine.partwork.places import Cut, extent
from projects.engine.plan.records import AXES, FACES, Axis, FaceName, Part

# Axes in the order that makes a right-handed system: x to the right, y back, z up.
_TURN = {("x", "y"): "z", ("y", "z"): "x", ("z", "x"): "y"}


def part_work(solution: Solution, part: Part) -> PartWork:
    """Return what is cut on each face of a part, and what can only be told in words.

    Exact, from the solved build. A part on which nothing is cut has one plain face.
    """
    found = list(cuts_on(solution, part))
    cuts = [cut for cut in found if isinstance(cut, Cut)]
    sizes = solution.sizes
    return PartWork(
        key=part.key,
        name=part.name,
        count=part.count,
        stock=solution.plan.stock_by_key[part.stock].name,
        length_mm=sizes[part.key, "length"],
        width_mm=sizes[part.key, "width"],
        thickness_mm=sizes[part.key, "thickness"],
        faces=tuple(_faces(solution, part, cuts)),
        notes=tuple(note for note in found if isinstance(note, WorkNote)),
    )


def _faces(solution: Solution, part: Part, cuts: Sequence[Cut]) -> list[WorkedFace]:
    """Return the worked faces: wide ones first, then edges, then ends."""
    bound: dict[FaceName, list[Cut]] = {}
    either: dict[FaceName, list[Cut]] = {}
    for cut in cuts:
        if cut.face:
            (either if cut.either else bound).setdefault(cut.face.name, []).append(cut)
    views = [(name, on, False) for name, on in bound.items()]
    views += [(name, on, True) for name, on in either.items()]
    shown = {FACES[name][0] for name, _, _ in views}
    for axis in _needed(part, cuts):
        if axis not in shown:
            views.append((_usual_face(axis), [], False))
            shown.add(axis)
    if not views:
        views.append((_usual_face(part.axes["thickness"]), [], False))
    free = [name not in bound and name not in either for name, _, _ in views]
    order = [part.axes[d] for d in ("thickness", "width", "length")]
    made = [
        _face(solution, part, name, on, cuts, either=is_either, free=is_free)
        for (name, on, is_either), is_free in zip(views, free, strict=True)
    ]
    return sorted(made, key=lambda face: order.index(FACES[_name(face.face)][0]))


def _name(name: str) -> FaceName:
    return next(face for face in FACES if face == name)


def _needed(part: Part, cuts: Sequence[Cut]) -> list[Axis]:
    """Return the axes to look along to see the cuts that go across the part."""
    needed = []
    for cut in cuts:
        if cut.face is None:
            for axis in AXES:
                along = [other for other in AXES if other != axis]
                if cut.across in along and all(other in cut.spans for other in along):
                    needed.append(axis)
    return [axis for axis in needed if axis != part.axes["length"]] or needed


def _usual_face(axis: Axis) -> FaceName:
    """Return the face to show where either would do."""
    usual: dict[Axis, FaceName] = {"x": "right", "y": "front", "z": "top"}
    return usual[axis]


def _face(
    solution: Solution,
    part: Part,
    name: FaceName,
    on: Sequence[Cut],
    cuts: Sequence[Cut],
    *,
    either: bool,
    free: bool,
) -> WorkedFace:
    axis, high = FACES[name]
    u = part.axes["length"] if part.axes["length"] != axis else part.axes["width"]
    v = next(other for other in AXES if other not in (axis, u))
    across = [cut for cut in cuts if cut.face is None and {u, v} <= cut.spans.keys()]
    width_mm, height_mm = extent(solution, part, u), extent(solution, part, v)
    u_low, u_high = part.faces_on(u)
    v_low, v_high = part.faces_on(v)
    marks = [_mark(cut, u, v) for cut in (*on, *across)]
    low, opposite = part.faces_on(axis)
    return WorkedFace(
        face=name,
        either=(low if high else opposite).name if either else "",
        free=free,
        u_ends=(u_low.name, u_high.name),
        v_ends=(v_low.name, v_high.name),
        width_mm=width_mm,
        height_mm=height_mm,
        outline=_outline(width_mm, height_mm, [m for m in marks if m.kind != "slot"]),
        marks=tuple(sorted(marks, key=lambda mark: (mark.u, mark.v))),
        v_reversed=high is not (_TURN.get((axis, u)) == v),
    )


def _mark(cut: Cut, u: Axis, v: Axis) -> SlotMark:
    low, high = cut.ends.get(v if cut.across == u else u, ("stopped", "stopped"))
    return SlotMark(
        joint=cut.joint,
        kind=cut.kind,
        title=cut.title,
        other=cut.other,
        u=cut.spans[u],
        v=cut.spans[v],
        across="u" if cut.across == u else "v",
        width_mm=cut.width_mm,
        depth_mm=cut.depth_mm,
        through=cut.through,
        low=low,
        high=high,
        measures=cut.measures,
    )


def _outline(
    width_mm: Fraction, height_mm: Fraction, marks: Sequence[SlotMark]
) -> tuple[Corner, ...]:
    """Return the part's outline: without notches, and without what tenons stand in."""
    notches: dict[tuple[bool, bool], list[Corner]] = {}
    for mark in marks:
        u_high = mark.u[1] == width_mm
        v_high = mark.v[1] == height_mm
        if mark.kind == "notch":
            size = (mark.u[1] - mark.u[0], mark.v[1] - mark.v[0])
            notches.setdefault((u_high, v_high), []).append(size)
        elif mark.kind == "tenon":
            below, above = mark.v[0], height_mm - mark.v[1]
            left, right = mark.u[0], width_mm - mark.u[1]
            if mark.across == "u":
                corners = {(u_high, False): below, (u_high, True): above}
                length = mark.u[1] - mark.u[0]
                for corner, shoulder in corners.items():
                    notches.setdefault(corner, []).append((length, shoulder))
            else:
                corners = {(False, v_high): left, (True, v_high): right}
                length = mark.v[1] - mark.v[0]
                for corner, shoulder in corners.items():
                    notches.setdefault(corner, []).append((shoulder, length))
    real = {
        corner: [(du, dv) for du, dv in cut if du and dv]
        for corner, cut in notches.items()
    }
    return outline(width_mm, height_mm, real)
