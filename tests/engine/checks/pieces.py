"""Small pieces that the checks are tried on, in inches, every size fixed."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from projects.engine.checks import Finding, ShopLimits, check
from projects.engine.fit.solve import Solution
from tests.engine.builds import ENDS, IN, data, distance, joint, part, size, solved

POPLAR = {"key": "board", "name": "Poplar", "kind": "solid",
          "species": "yellow-poplar", "thickness": "3/4"}  # fmt: skip
PLY = {"key": "ply", "name": "Plywood", "kind": "plywood", "species": "yellow birch",
       "thickness": "1/2"}  # fmt: skip


def made(
    parts: list[dict[str, Any]],
    *,
    species: str | None = "yellow-poplar",
    more_stock: list[dict[str, Any]] | None = None,
    **more: Any,
) -> Solution:
    """Return a solved plan of poplar boards, or of another species or none."""
    of = data(parts, **more)
    of["stock"] = [POPLAR | {"species": species}, PLY, *(more_stock or [])]
    if species is None:
        del of["stock"][0]["species"]
    return solved(of)


def found(
    solution: Solution, check_key: str, shop: ShopLimits | None = None
) -> list[Finding]:
    """Return what one check finds."""
    return [f for f in check(solution, shop) if f.check == check_key]


def amounts(finding: Finding) -> dict[str, Fraction]:
    """Return the numbers of a finding, lengths in inches."""
    return {
        amount.name: amount.value / IN if amount.unit == "mm" else amount.value
        for amount in finding.amounts
    }


def flush(one: str, other: str, *axes: str) -> list[list[str]]:
    """Return the flush faces of two parts that end alike on some axes."""
    return [
        [f"{key}.{face}" for key in (one, other)]
        for axis in axes
        for face in ENDS[axis]
    ]


def case(
    *,
    shelf: dict[str, Any] | None = None,
    span: str = "24",
    depth: str = "3/8",
    kind: str = "dado",
    height: str | None = "6",
    width: str = "10",
    more: dict[str, Any] | None = None,
    **details: Any,
) -> Solution:
    """Return a shelf between two sides 30 in high; `span` is the clear opening."""
    of = more or {}
    high = [distance("height", "left.bottom", "shelf.bottom", height)] if height else []
    extra = {} if kind in ("butt", "dowel") else {"depth": depth}
    return made(
        [part("left", "zyx"), part("right", "zyx"), shelf or part("shelf", "xyz"),
         *of.get("parts", [])],
        joints=[
            joint("shelf_left", kind, "shelf.left", "left.right", **extra, **details),
            joint("shelf_right", kind, "shelf.right", "right.left", **extra, **details),
            *of.get("joints", []),
        ],
        distances=[
            distance("opening", "left.right", "right.left", span),
            size("left", "length", "zyx", "30"),
            size("left", "width", "zyx", width),
            *high, *of.get("distances", []),
        ],
        flush=[
            ["left.bottom", "right.bottom"], ["left.top", "right.top"],
            ["left.front", "shelf.front", "right.front"],
            ["left.back", "shelf.back", "right.back"], *of.get("flush", []),
        ],
        species=of.get("species", "yellow-poplar"),
    )  # fmt: skip


def frame(
    *,
    width: str,
    kind: str = "groove",
    kinds: tuple[str, str] | None = None,
    keeper: dict[str, Any] | None = None,
    species: str = "yellow-poplar",
    panel: dict[str, Any] | None = None,
    joined: bool = True,
) -> Solution:
    """Return an upright panel, `width` wide in all, in two stiles on its long edges.

    It goes 1/4 in into each; a rail on top reaches from stile to stile.
    """
    depth = {} if kind in ("butt", "dowel") else {"depth": "1/4"}
    rail = keeper or part("rail", "xzy")
    one, other = kinds or (kind, kind)
    held = [
        joint("rail_left", "tenon", "rail.left", "left.right", depth="1"),
        joint("rail_right", "tenon", "rail.right", "right.left", depth="1"),
    ]
    loose = [distance("rail_place", "left.left", "rail.left", "2"),
             size("rail", "length", "xzy", "1")]  # fmt: skip
    return made(
        [part("left", "zxy"), part("right", "zxy"), rail,
         panel or part("panel", "zxy")],
        joints=[
            joint("panel_left", one, "panel.left", "left.right", **depth),
            joint("panel_right", other, "panel.right", "right.left", **depth),
            *(held if joined else []),
        ],
        distances=[
            distance("panel_width", "panel.left", "panel.right", width),
            distance("panel_high", "panel.bottom", "panel.top", "20"),
            size("left", "length", "zxy", "24"), size("left", "width", "zxy", "2"),
            size("right", "width", "zxy", "2"),
            distance("rail_high", "rail.bottom", "rail.top", "2"),
            distance("panel_up", "left.bottom", "panel.bottom", "1"),
            *([] if joined else loose),
        ],
        flush=[
            *flush("left", "right", "z"), ["left.top", "rail.top"],
            ["left.front", "right.front", "panel.front", "rail.front"],
        ],
        species=species,
    )  # fmt: skip
