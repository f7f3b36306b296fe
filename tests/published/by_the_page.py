"""The equations of a plan, written down once more from what the plan file says.

Nothing here is taken from the engine: the data are the JSON's own, lengths are read
by a few lines below, and each equation is a list of (coefficient, face) pairs that
sums to a number of millimetres. The published checks solve them in their own ways.
"""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

Data = dict[str, Any]
Side = tuple[tuple[Fraction, str], ...]

ENDS = {"x": ("left", "right"), "y": ("front", "back"), "z": ("bottom", "top")}
HIGH = ("right", "back", "top")
INCH_MM = Fraction(254, 10)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One equation: the sum of `side` is `mm`; `name` is that of a fact or want."""

    kind: str
    name: str
    side: Side
    mm: Fraction


def length_mm(text: str) -> Fraction:
    """Read the few ways a random plan writes a length [mm]."""
    if text.endswith(" mm"):
        return Fraction(text.removesuffix(" mm"))
    return sum((Fraction(piece) for piece in text.split(" ")), Fraction(0)) * INCH_MM


def between(start: str, end: str) -> Side:
    """Return the position of `end` minus that of `start`."""
    return ((Fraction(1), end), (Fraction(-1), start))


def ends(part: Data, axis: str) -> tuple[str, str]:
    """Return a part's low and high face on an axis."""
    low, high = ENDS[axis]
    return f"{part['key']}.{low}", f"{part['key']}.{high}"


def faces(plan: Data) -> list[str]:
    """Return the six faces of every part."""
    return [
        face for part in plan["parts"] for axis in ENDS for face in ends(part, axis)
    ]


def extents(plan: Data) -> dict[tuple[str, str], Side]:
    """Return each part's length, width and thickness as a difference of positions."""
    return {
        (part["key"], dimension): between(*ends(part, part[dimension]))
        for part in plan["parts"]
        for dimension in ("length", "width", "thickness")
    }


def thickness_mm(plan: Data, readings: Data, part: Data) -> Fraction:
    """Return the mean of the part's own readings, of its stock's, or the nominal."""
    own = readings["parts"].get(part["key"], {}).get("thickness")
    points = own or readings["stock"].get(part["stock"])
    if not points:
        stock = {s["key"]: s["thickness"] for s in plan["stock"]}
        points = [stock[part["stock"]]]
    return sum(map(length_mm, points), Fraction(0)) / len(points)


def structure(plan: Data, readings: Data) -> list[Line]:
    """Return joints, flush faces, even distances and thicknesses."""
    parts = {part["key"]: part for part in plan["parts"]}
    lines = [_joint(parts, joint) for joint in plan["joints"]]
    for first, *others in plan["flush"]:
        lines += [_structural(between(first, face)) for face in others]
    for first, *others in plan["even"]:
        for other in others:
            minus = tuple((-c, face) for c, face in between(*other))
            lines.append(_structural((*between(*first), *minus)))
    for part in parts.values():
        side = between(*ends(part, part["thickness"]))
        lines.append(_structural(side, thickness_mm(plan, readings, part)))
    return lines


def _structural(side: Side, mm: Fraction = Fraction(0)) -> Line:
    return Line(kind="structure", name="", side=side, mm=mm)


def _joint(parts: dict[str, Data], joint: Data) -> Line:
    """Return: the guest's face lies `depth` inside the host's face."""
    guest, host = joint["guest"], joint["host"]
    part, face = host.split(".")
    inwards = -1 if face in HIGH else 1
    axis = next(axis for axis, names in ENDS.items() if face in names)
    low, high = ends(parts[part], axis)
    depth = joint.get("depth", "0")
    if isinstance(depth, str):
        return _structural(between(host, guest), inwards * length_mm(depth))
    share = inwards * Fraction(depth["of_thickness"])
    return _structural((*between(host, guest), (-share, high), (share, low)))


def facts(plan: Data, readings: Data) -> list[Line]:
    """Return the measured distances, then the cut sizes."""
    distances = {d["key"]: d for d in plan["distances"]}
    sizes = extents(plan)
    lines = []
    for key, text in readings["distances"].items():
        side = between(distances[key]["from"], distances[key]["to"])
        lines.append(Line(kind="fact", name=key, side=side, mm=length_mm(text)))
    for name, text in readings["cut"].items():
        part, dimension = name.split(".")
        side = sizes[part, dimension]
        lines.append(Line(kind="fact", name=name, side=side, mm=length_mm(text)))
    return lines


def wanted(plan: Data) -> list[Line]:
    """Return the wanted distances: held 1, 2, 3 …, unranked last, in file order."""
    lines: list[tuple[float, Line]] = []
    for d in plan["distances"]:
        if "value" in d:
            side, mm = between(d["from"], d["to"]), length_mm(d["value"])
            line = Line(kind="wanted", name=d["key"], side=side, mm=mm)
            lines.append((d.get("held", float("inf")), line))
    return [line for _, line in sorted(lines, key=lambda ranked: ranked[0])]
