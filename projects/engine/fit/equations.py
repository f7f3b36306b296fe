"""A plan as linear equations between face positions.

Each equation says: a sum of face positions equals one input, or 0. The unknowns
are the positions of the faces on the three axes (`Face`); the inputs are the
thicknesses, given depths, wanted distances and facts.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from projects.engine.plan.readings import Fact
from projects.engine.plan.records import (
    Dimension,
    Distance,
    Even,
    Face,
    Flush,
    Joint,
    Part,
    Plan,
)

InputKind = Literal["thickness", "depth", "wanted", "measured", "cut"]
FaceRow = dict[Face, Fraction]


@dataclass(frozen=True, kw_only=True)
class Input:
    """Name one quantity a size can depend on.

    `key` is that of the part (thickness, cut), joint (depth) or distance (wanted,
    measured); `dimension` is set for a cut.
    """

    kind: InputKind
    key: str
    dimension: Dimension | None = None


@dataclass(frozen=True, kw_only=True)
class Equation:
    """Say that `row`, a sum over face positions, equals `input`, or 0 with None.

    `name` names it in a loop that can't close.
    """

    name: str
    row: FaceRow
    input: Input | None


def extent(plan: Plan, part: Part, dimension: Dimension) -> FaceRow:
    """Return the row for a part's extent: its high face minus its low one."""
    low, high = part.faces_on(part.axes[dimension])
    return {high: Fraction(1), low: Fraction(-1)}


def difference(start: Face, end: Face) -> FaceRow:
    """Return the row for the position of `end` minus that of `start`."""
    return {end: Fraction(1), start: Fraction(-1)}


def structure(plan: Plan) -> Iterable[Equation]:
    """Yield the equations that always hold, in the order they are kept."""
    for joint in plan.joints:
        yield _joint(plan, joint)
    for faces in plan.flush:
        yield from _flush(plan, faces)
    for pairs in plan.even:
        yield from _even(pairs)
    for part in plan.parts:
        yield Equation(
            name=f"thickness of {part.key}",
            row=extent(plan, part, "thickness"),
            input=Input(kind="thickness", key=part.key),
        )


def _joint(plan: Plan, joint: Joint) -> Equation:
    """Say that the guest's face lies `depth` inside the host's.

    Inside is towards the low end for a high face of the host, and the other way
    round; the row is turned so that it equals +depth.
    """
    guest, host = joint.guest, joint.host
    row = difference(guest, host) if host.is_high else difference(host, guest)
    given = None
    if joint.depth.length is not None:
        given = Input(kind="depth", key=joint.key)
    elif joint.depth.share is not None:
        low, high = plan.part_by_key[host.part].faces_on(host.axis)
        row[high] = row.get(high, Fraction(0)) - joint.depth.share
        row[low] = row.get(low, Fraction(0)) + joint.depth.share
    return Equation(name=f"joint {joint.key}", row=row, input=given)


def _flush(plan: Plan, faces: Flush) -> Iterable[Equation]:
    for face in faces[1:]:
        yield Equation(
            name=f"{faces[0]} flush with {face}",
            row=difference(faces[0], face),
            input=None,
        )


def _even(pairs: Even) -> Iterable[Equation]:
    first_start, first_end = pairs[0]
    for start, end in pairs[1:]:
        row: FaceRow = {}
        for face, sign in ((first_end, 1), (first_start, -1), (end, -1), (start, 1)):
            row[face] = row.get(face, Fraction(0)) + sign
        yield Equation(
            name=f"{first_start} to {first_end} even with {start} to {end}",
            row=row,
            input=None,
        )


def fact_equation(plan: Plan, fact: Fact) -> Equation:
    """Return the equation that a measured distance or a cut size states."""
    if fact.kind == "distance":
        distance = plan.distance_by_key[fact.key]
        return Equation(
            name=f"distance {distance.key}, measured",
            row=difference(distance.start, distance.end),
            input=Input(kind="measured", key=fact.key),
        )
    part = plan.part_by_key[fact.key]
    dimension = fact.dimension or "length"
    return Equation(
        name=f"{part.key}.{dimension}, as cut",
        row=extent(plan, part, dimension),
        input=Input(kind="cut", key=fact.key, dimension=dimension),
    )


def wanted(plan: Plan) -> Iterable[tuple[Distance, Equation]]:
    """Yield the wanted distances by rank: held 1, 2, 3 …, then the unranked."""
    ranked = sorted(
        (distance for distance in plan.distances if distance.value is not None),
        key=lambda distance: (distance.held is None, distance.held or 0),
    )
    for distance in ranked:
        yield (
            distance,
            Equation(
                name=f"distance {distance.key}",
                row=difference(distance.start, distance.end),
                input=Input(kind="wanted", key=distance.key),
            ),
        )


def input_name(plan: Plan, item: Input) -> str:
    """Return what an input is called in a sum."""
    if item.kind == "thickness":
        return f"{plan.part_by_key[item.key].name} thickness"
    if item.kind == "depth":
        return f"{plan.joint_name(plan.joint_by_key[item.key])}, depth"
    if item.kind == "cut":
        return f"{plan.part_by_key[item.key].name} {item.dimension}, as cut"
    name = plan.distance_by_key[item.key].name
    return f"{name}, measured" if item.kind == "measured" else name
