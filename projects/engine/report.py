"""Tell a solved build as plain data (for `--json`) and as lines of text."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from projects.engine.fit.solve import Doubt, Solution, Term
from projects.engine.fit.system import SizeKey
from projects.engine.joints import KINDS
from projects.engine.plan.records import DIMENSIONS, Distance, Joint
from projects.engine.units import (
    decimal_text,
    exact_text,
    mm_per,
    nearest_mark,
    tape_text,
)
from projects.engine.units.length import UnitSystem


def coefficient_text(coefficient: Fraction) -> str:
    """Return a coefficient with its sign, such as `+1` or `-1/2`.

    >>> coefficient_text(Fraction(-1, 2))
    '-1/2'
    """
    sign = "+" if coefficient > 0 else "-"
    size = abs(coefficient)
    return f"{sign}{size.numerator}" + (
        f"/{size.denominator}" if size.denominator != 1 else ""
    )


def length_data(mm: Fraction) -> dict[str, str]:
    """Return a length with 4 decimals of mm and 5 of inches, rounded half to even."""
    return {"mm": decimal_text(mm, 4), "in": decimal_text(mm / mm_per("in"), 5)}


def as_data(solution: Solution) -> dict[str, Any]:
    """Return the result of a build, shaped as DEVELOPERS.md, "The result", says."""
    return {
        "parts": {
            part.key: {
                dimension: size_data(solution, (part.key, dimension))
                for dimension in DIMENSIONS
            }
            for part in solution.plan.parts
        },
        "joints": {
            joint.key: _joint_data(solution, joint) for joint in solution.plan.joints
        },
        "distances": {
            distance.key: _distance_data(solution, distance)
            for distance in solution.plan.distances
        },
        "in_doubt": [_doubt_data(doubt) for doubt in solution.in_doubt],
        "waiting_for": list(solution.waiting_for),
    }


def size_data(solution: Solution, size: SizeKey) -> dict[str, Any]:
    """Return one size with its mark on the tape, its sum, and what it waits for."""
    mm = solution.sizes[size]
    mark = nearest_mark(mm, tape=solution.plan.tape)
    data: dict[str, Any] = {
        **length_data(mm),
        "tape": tape_text(mark),
        "off": mark.off,
        "because": [term_data(t) for t in solution.terms(solution.form(size))],
    }
    waits = solution.system.waiting.get(size)
    if waits:
        data["waits_for"] = list(waits)
    return data


def term_data(term: Term) -> list[str]:
    """Return one term of a sum: coefficient, name, exact value with its unit."""
    return [coefficient_text(term.coefficient), term.name, term.value_text]


def _joint_data(solution: Solution, joint: Joint) -> dict[str, Any]:
    cuts = solution.cuts[joint.key]
    data: dict[str, Any] = {
        "width": length_data(cuts.width_mm) if cuts.width_mm is not None else None,
        "depth": length_data(cuts.depth_mm) if cuts.depth_mm is not None else None,
    }
    for name, measures in (("on_host", cuts.on_host), ("on_guest", cuts.on_guest)):
        if measures:
            data[name] = {m.name: length_data(m.mm) for m in measures}
    return data


def _distance_data(solution: Solution, distance: Distance) -> dict[str, Any]:
    mm = solution.distances[distance.key]
    gives = solution.gives_mm(distance.key)
    size = length_data(mm) if mm is not None else {"mm": None, "in": None}
    wanted = distance.value
    return {
        **size,
        "wanted": decimal_text(wanted.mm / mm_per("in"), 5) if wanted else None,
        "gives": decimal_text(gives / mm_per("in"), 5) if gives is not None else None,
    }


def _doubt_data(doubt: Doubt) -> dict[str, Any]:
    length = doubt.reading.length
    return {
        "reading": str(doubt.fact),
        "name": doubt.name,
        "read": exact_text(length.mm, unit=length.unit),
        "comes_out": length_data(doubt.comes_out_mm),
        "difference": length_data(doubt.off_mm),
        "disagrees_with": list(doubt.disagrees_with),
        "agrees": doubt.agrees,
    }


def as_text(solution: Solution) -> str:
    """Return the result of a build as a table for a terminal."""
    plan = solution.plan
    rows = [("part", *DIMENSIONS)]
    for part in plan.parts:
        sizes = [_tape(solution, solution.sizes[part.key, d]) for d in DIMENSIONS]
        rows.append((part.key, *sizes))
    lines = _table(rows)
    unit = plan.units
    rows = [("joint", "kind", f"width {unit}", f"depth {unit}")]
    for joint in plan.joints:
        cuts = solution.cuts[joint.key]
        width, depth = _decimal(cuts.width_mm, unit), _decimal(cuts.depth_mm, unit)
        rows.append((joint.key, KINDS[joint.kind].title, width, depth))
    lines += ["", *_table(rows)] if plan.joints else []
    rows = [("distance", "comes out at", f"over what is wanted, {unit}")]
    for distance in plan.distances:
        mm = solution.distances[distance.key]
        size = _tape(solution, mm) if mm is not None else "to be measured"
        gives = _decimal(solution.gives_mm(distance.key), unit)
        rows.append((distance.key, size, gives))
    lines += ["", *_table(rows)] if plan.distances else []
    for doubt in solution.in_doubt:
        state = "agrees within a mark" if doubt.agrees else "in doubt"
        read = _decimal(doubt.reading.length.mm, unit)
        made = _decimal(doubt.comes_out_mm, unit)
        lines.append(
            f"{state}: {doubt.fact} read {read} {unit}, comes out at {made} {unit}"
        )
    if solution.waiting_for:
        lines += ["", "waiting for: " + ", ".join(solution.waiting_for)]
    return "\n".join(lines)


def _tape(solution: Solution, mm: Fraction) -> str:
    if solution.plan.units == "mm":
        return decimal_text(mm, 2)
    mark = nearest_mark(abs(mm), tape=solution.plan.tape)
    sign = "-" if mm < 0 else ""
    return sign + tape_text(mark) + ("" if mark.off == "exact" else f" {mark.off}")


def _decimal(mm: Fraction | None, unit: UnitSystem) -> str:
    if mm is None:
        return "-"
    return decimal_text(mm / mm_per(unit), 5 if unit == "in" else 4)


def _table(rows: list[tuple[str, ...]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(
            cell.ljust(width) for cell, width in zip(row, widths, strict=True)
        ).rstrip()
        for row in rows
    ]
