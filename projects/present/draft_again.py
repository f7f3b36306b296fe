"""What the form for one more entry starts with, from an entry like it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from projects.present.draft_words import text

KEPT_ON = {
    "stock": ("kind",),
    "parts": ("stock", "lies"),
    "joints": (
        "kind",
        "depth",
        "depth_as",
        "clearance",
        "tenon_thickness",
        "tenon_thickness_as",
        "edge_shoulder",
        "dowel_count",
        "dowel_diameter",
        "dowel_length",
    ),
}
"""What of an entry the form for another one starts with."""

STOPS = ("stop_at_1", "stop_by_1", "stop_at_2", "stop_by_2")


def another_joint(values: Mapping[str, Any]) -> str:
    """Return the query that opens the form of another joint like one; no part yet."""
    names = (*KEPT_ON["joints"], "guest_face", "host_part", *STOPS)
    kept = {name: text(values.get(name)) for name in names if values.get(name)}
    return urlencode({"open": "joints:new", **kept})
