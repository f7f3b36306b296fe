"""Plans for tests of steps: read, but not always to be solved."""

import json
import random
from pathlib import Path
from typing import Any

from projects.engine.plan.reader import read_plan
from projects.engine.plan.records import Plan
from tests.engine.builds import ENDS, data, distance, joint, part, plan, size
from tests.engine.random_plans import random_build

DEMO = Path(__file__).parents[3] / "projects" / "demo" / "plans"
STOP = {"at": "front", "by": "1/2"}
TENON = {"thickness": {"of_thickness": "1/3"}}
DOWELS = {"diameter": "3/8", "length": "1", "count": 2}


def demo(name: str) -> Plan:
    """Return one of the demo plans."""
    return read_plan((DEMO / f"{name}.json").read_bytes())


def random_plan(seed: int) -> Plan:
    """Return a random plan of all kinds of joint, dry fits and fitted parts.

    It can be read; whether it can be solved or built is left to chance.
    """
    source = random.Random(seed)
    whole, _readings = random_build(seed)
    keys = [p["key"] for p in whole["parts"]]
    thick = {p["key"]: p["thickness"] for p in whole["parts"]}
    for entry in whole["joints"]:
        _change_kind(source, entry)
        if entry["kind"] == "dado" and source.random() < 0.5:
            _stop(entry, thick[entry["guest"].split(".")[0]])
    for entry in whole["distances"]:
        if source.random() < 0.3:
            entry["measure"] = "dry_fit"
        if "measure" in entry and source.random() < 0.6:
            entry["fits"] = source.sample(keys, source.randint(0, len(keys)))
    if source.random() < 0.3:
        one, other = whole["parts"][:2]
        one["pair"], other["pair"] = other["key"], one["key"]
    if source.random() < 0.3:
        whole["stock"][0]["kind"] = "plywood"
    if source.random() < 0.2:
        # nothing fixes some size, as in a draft
        whole["distances"] = [d for d in whole["distances"] if source.random() < 0.5]
    return read_plan(json.dumps(whole))


def _change_kind(source: random.Random, entry: dict[str, Any]) -> None:
    kind = source.choice(["same", "tenon", "half_lap", "dowel"])
    if kind == "same":
        return
    entry["kind"] = kind
    entry.pop("depth", None)
    if kind == "tenon":
        entry |= {"depth": "1/2", "tenon": TENON}
    elif kind == "dowel" and source.random() < 0.5:
        entry["dowels"] = DOWELS


def _stop(entry: dict[str, Any], thick: str) -> None:
    """Let a dado stop short of a face that it runs to, where there is one."""
    face = entry["host"].split(".")[1]
    along = [ends[0] for axis, ends in ENDS.items()
             if axis != thick and face not in ends]  # fmt: skip
    entry["stops"] = [{"at": along[0], "by": "1/2"}]


def case(**more: Any) -> Plan:
    """Return two sides, a shelf in dadoes, and a rail fitted to the opening."""
    whole = case_data()
    return plan({**whole, **more})


def case_data() -> dict[str, Any]:
    """Return the data of `case`."""
    return data(
        [
            part("left_side", "zyx", pair="right_side"),
            part("right_side", "zyx", pair="left_side"),
            part("shelf", "xyz"),
            part("rail", "xzy"),
        ],
        joints=[
            joint("shelf_left", "dado", "shelf.left", "left_side.right", depth="3/8"),
            joint("shelf_right", "dado", "shelf.right", "right_side.left", depth="3/8"),
            joint("rail_left", "tenon", "rail.left", "left_side.right",
                  depth="1/2", tenon=TENON),
            joint("rail_right", "tenon", "rail.right", "right_side.left",
                  depth="1/2", tenon=TENON),
        ],
        distances=[
            distance("overall", "left_side.left", "right_side.right", "36", held=1),
            size("left_side", "length", "zyx", "18"),
            size("left_side", "width", "zyx", "14"),
            size("rail", "width", "xzy", "4"),
            distance("opening", "left_side.right", "right_side.left",
                     measure="dry_fit", fits=["rail"]),
        ],
        flush=[
            ["left_side.front", "shelf.front", "right_side.front"],
            ["left_side.back", "shelf.back", "right_side.back"],
            ["left_side.bottom", "right_side.bottom"],
            ["left_side.top", "right_side.top"],
        ],
    )  # fmt: skip
