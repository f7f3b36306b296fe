"""A plan of 40 parts and 80 joints, and readings of a class, always the same."""

import json
import random
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from projects.engine.plan.reader import read_plan
from projects.engine.plan.records import Plan

UPRIGHTS = 8
LEVELS = 4
RAILS = ("top_front", "top_back", "bottom_front", "bottom_back")
CLASS = 30
POINTS = 3


@dataclass(frozen=True, kw_only=True)
class Row:
    """One reading as a database row: whose, of what, exactly how long [mm]."""

    student: int
    kind: str
    key: str
    dimension: str
    mm: str
    unit: str
    instrument: str


def cabinet() -> Plan:
    """Return a wide cabinet: 8 uprights, 28 shelves between them, 4 rails over all."""
    return read_plan(cabinet_bytes())


def cabinet_bytes() -> bytes:
    """Return the cabinet's plan file."""
    return json.dumps(_data()).encode()


def _data() -> dict[str, Any]:
    uprights = [f"upright{n}" for n in range(UPRIGHTS)]
    shelves = [(n, level) for n in range(UPRIGHTS - 1) for level in range(LEVELS)]
    parts = [_part(key, f"board{n % 3}", "zyx") for n, key in enumerate(uprights)]
    parts += [_part(f"shelf{n}_{at}", f"board{at}", "xyz") for n, at in shelves]
    parts += [_part(f"rail_{rail}", "board4", "xzy") for rail in RAILS]
    return {
        "format": "shopclass-plan", "version": 1, "title": "Wide cabinet",
        "units": "in", "tape": 16,
        "stock": [
            {"key": f"board{n}", "name": f"Board {n}", "kind": "solid",
             "thickness": "3/4"} for n in range(5)
        ],
        "parts": parts,
        "joints": _joints(uprights, shelves),
        "distances": _distances(uprights),
        "flush": _flush(uprights, shelves),
        "even": [[
            [f"{left}.right", f"{right}.left"]
            for left, right in pairwise(uprights)
        ]],
    }  # fmt: skip


def _part(key: str, stock: str, axes: str) -> dict[str, str]:
    length, width, thickness = list(axes)
    return {"key": key, "name": key.replace("_", " ").capitalize(), "stock": stock,
            "length": length, "width": width, "thickness": thickness}  # fmt: skip


def _joints(
    uprights: list[str], shelves: list[tuple[int, int]]
) -> list[dict[str, Any]]:
    joints: list[dict[str, Any]] = []
    for n, level in shelves:
        shelf = f"shelf{n}_{level}"
        for end, other, host in (("left", "right", n), ("right", "left", n + 1)):
            joints.append({
                "key": f"{shelf}_{end}", "kind": "dado", "guest": f"{shelf}.{end}",
                "host": f"{uprights[host]}.{other}", "clearance": "0.005",
                "depth": "3/8" if end == "left" else {"of_thickness": "1/2"},
            })  # fmt: skip
    for rail in RAILS:
        top = rail.startswith("top")
        for upright in uprights[1:-1]:
            joints.append({
                "key": f"rail_{rail}_{upright}", "kind": "half_lap", "depth": "2 1/2",
                "guest": f"rail_{rail}.{'bottom' if top else 'top'}",
                "host": f"{upright}.{'top' if top else 'bottom'}",
            })  # fmt: skip
    return joints


def _distances(uprights: list[str]) -> list[dict[str, Any]]:
    first, last = uprights[0], uprights[-1]
    wanted = [
        ("width", f"{first}.left", f"{last}.right", "84"),
        ("height", f"{first}.bottom", f"{first}.top", "72"),
        ("deep", f"{first}.front", f"{first}.back", "14"),
        ("top_rail", "rail_top_front.bottom", "rail_top_front.top", "2 1/2"),
        ("bottom_rail", "rail_bottom_front.bottom", "rail_bottom_front.top", "2 1/2"),
        *((f"level{n}", f"{first}.bottom", f"shelf0_{n}.bottom", f"{4 + 16 * n}")
          for n in range(LEVELS)),
        # each of these gives: the bays are even, and the width is held
        *((f"bay{n}", f"{uprights[n]}.right", f"{uprights[n + 1]}.left", "11")
          for n in range(UPRIGHTS - 1)),
    ]  # fmt: skip
    distances: list[dict[str, Any]] = [
        {"key": key, "name": key.capitalize(), "from": start, "to": end, "value": value}
        for key, start, end, value in wanted
    ]
    distances[0]["held"] = 1
    opening = {"key": "opening", "name": "Opening", "measure": "dry_fit",
               "from": f"{first}.right", "to": f"{uprights[1]}.left"}  # fmt: skip
    return [*distances, opening]


def _flush(uprights: list[str], shelves: list[tuple[int, int]]) -> list[list[str]]:
    deep = [*uprights, *(f"shelf{n}_{level}" for n, level in shelves)]
    ends = (uprights[0], uprights[-1])
    return [
        [*(f"{key}.front" for key in deep), "rail_top_front.front",
         "rail_bottom_front.front"],
        [*(f"{key}.back" for key in deep), "rail_top_back.back",
         "rail_bottom_back.back"],
        *([f"shelf{n}_{level}.bottom" for n in range(UPRIGHTS - 1)]
          for level in range(LEVELS)),
        [*(f"{key}.top" for key in (*ends, uprights[1])), "rail_top_front.top",
         "rail_top_back.top"],
        [*(f"{key}.bottom" for key in (*ends, uprights[1])), "rail_bottom_front.bottom",
         "rail_bottom_back.bottom"],
        [f"{uprights[0]}.left", *(f"rail_{rail}.left" for rail in RAILS)],
        [f"{uprights[-1]}.right", *(f"rail_{rail}.right" for rail in RAILS)],
    ]  # fmt: skip


def class_rows(students: int = CLASS) -> list[Row]:
    """Return what the students logged: every board, four uprights, the opening."""
    source = random.Random(2)
    rows = []
    for student in range(students):
        boards = [("stock", f"board{n}") for n in range(5)]
        boards += [("part", f"upright{n}") for n in range(4)]
        for kind, key in boards * POINTS:
            mm = f"{source.randint(7200, 7700) * 254}/100000"
            rows.append(Row(student=student, kind=kind, key=key, dimension="", mm=mm,
                            unit="in", instrument="caliper"))  # fmt: skip
        mm = f"{source.randint(10 * 32, 11 * 32) * 254}/320"
        rows.append(Row(student=student, kind="distance", key="opening", dimension="",
                        mm=mm, unit="in", instrument="tape"))  # fmt: skip
    return rows
