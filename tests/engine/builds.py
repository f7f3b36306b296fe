"""Plans and readings for tests, written short."""

import copy
import json
from fractions import Fraction
from typing import Any

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution, solve
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import Readings, read_readings
from projects.engine.plan.records import Plan

IN = Fraction(254, 10)
ENDS = {"x": ("left", "right"), "y": ("front", "back"), "z": ("bottom", "top")}
BOARD = {"key": "board", "name": "Board", "kind": "solid", "thickness": "3/4"}


def inches(text: str | int | Fraction) -> Fraction:
    """Return a number of inches in millimetres."""
    return Fraction(text) * IN


def part(key: str, axes: str, **more: Any) -> dict[str, Any]:
    """Return a part; `axes` are those of its length, width and thickness."""
    length, width, thickness = list(axes)
    name = key.replace("_", " ").capitalize()
    return {"key": key, "name": name, "stock": "board", "length": length,
            "width": width, "thickness": thickness, **more}  # fmt: skip


def joint(key: str, kind: str, guest: str, host: str, **more: Any) -> dict[str, Any]:
    """Return a joint."""
    return {"key": key, "kind": kind, "guest": guest, "host": host, **more}


def distance(
    key: str, start: str, end: str, value: Any = None, **more: Any
) -> dict[str, Any]:
    """Return a distance; without a value it is only computed."""
    wanted = {} if value is None else {"value": value}
    name = key.replace("_", " ").capitalize()
    return {"key": key, "name": name, "from": start, "to": end, **wanted, **more}


def size(of: str, dimension: str, axes: str, value: Any, **more: Any) -> dict[str, Any]:
    """Return the distance between two faces of one part."""
    axis = dict(zip(("length", "width", "thickness"), axes, strict=True))[dimension]
    low, high = ENDS[axis]
    return distance(f"{of}_{dimension}", f"{of}.{low}", f"{of}.{high}", value, **more)


def data(parts: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    """Return the data of a whole plan."""
    return {"format": "shopclass-plan", "version": 1, "title": "Tried", "units": "in",
            "stock": [BOARD], "parts": parts, **more}  # fmt: skip


def box(key: str = "box", **lengths: Any) -> dict[str, Any]:
    """Return the data of one loose box with its wanted sizes by dimension."""
    wants = [size(key, dimension, "xyz", value) for dimension, value in lengths.items()]
    return data([part(key, "xyz")], distances=wants)


def refusal(of: dict[str, Any], readings: dict[str, Any] | None = None) -> str:
    """Return the error that solving ends with."""
    with pytest.raises(EngineError) as refused:
        solved(of, readings)
    return str(refused.value)


def plan(of: dict[str, Any]) -> Plan:
    """Read a plan from data."""
    return read_plan(json.dumps(of))


def solved(of: dict[str, Any], readings: dict[str, Any] | None = None) -> Solution:
    """Read a plan and its readings from data, and solve the build."""
    read = plan(of)
    if readings is None:
        return solve(read, Readings())
    return solve(read, read_readings(json.dumps(readings), read))


def size_in(solution: Solution, name: str) -> Fraction:
    """Return a size, named `part.dimension`, in inches."""
    of, dimension = name.split(".")
    sizes = {f"{key[0]}.{key[1]}": mm for key, mm in solution.sizes.items()}
    return sizes[f"{of}.{dimension}"] / IN


def boot_bench() -> dict[str, Any]:
    """Return two sides with a shelf between them, all sizes fixed."""
    return copy.deepcopy(_BOOT_BENCH)


_BOOT_BENCH = data(
    [
        part("left_side", "zyx", pair="right_side"),
        part("right_side", "zyx", pair="left_side"),
        part("shelf", "xyz"),
    ],
    title="Hall boot bench",
    tape=16,
    joints=[
        joint("shelf_left", "dado", "shelf.left", "left_side.right",
              depth="3/8", clearance="0.005"),
        joint("shelf_right", "dado", "shelf.right", "right_side.left",
              depth={"of_thickness": "1/2"}),
    ],
    distances=[
        distance("overall_width", "left_side.left", "right_side.right", "36", held=1),
        distance("shelf_height", "left_side.bottom", "shelf.bottom", "6", held=2),
        size("left_side", "length", "zyx", "18", held=2),
        size("left_side", "width", "zyx", "14"),
        distance("opening", "left_side.right", "right_side.left", measure="dry_fit"),
    ],
    flush=[
        ["left_side.front", "shelf.front", "right_side.front"],
        ["left_side.back", "shelf.back", "right_side.back"],
        ["left_side.bottom", "right_side.bottom"],
        ["left_side.top", "right_side.top"],
    ],
)  # fmt: skip
