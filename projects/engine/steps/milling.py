"""The steps that make boards flat and thick enough, and parts their size.

Source of the notes: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from projects.engine.plan.records import Plan
from projects.engine.plan.steps import STOCK, OtherWay, Stage, Step
from projects.engine.shop.machines import MACHINES
from projects.engine.steps.rounds import Rounds
from projects.engine.steps.words import fitting, has_pair, part_names, stock_names

SOLID = "solid"


def stock_steps(plan: Plan, *, each: bool) -> Iterator[Step]:
    """Yield the steps from rough boards to logged thicknesses.

    With `each` every solid stock is planed in a step of its own.
    """
    used = list(dict.fromkeys(part.stock for part in plan.parts))
    solid = [key for key in used if plan.stock_by_key[key].kind == SOLID]
    if solid:
        yield from _flat(plan, solid)
    for keys in [[key] for key in solid] if each else [solid] if solid else []:
        yield _plane(plan, keys)
    yield Step(
        key="log_thickness",
        title=fitting(
            f"Measure and log how thick the {stock_names(plan, used)} came out",
            "Measure and log the thickness of every stock",
        ),
        stage="mill",
        measures=tuple(STOCK + key for key in used),
        note="With a caliper, near both ends and in the middle of a board. All slots "
        "and lengths come from these readings.",
    )


def _flat(plan: Plan, solid: list[str]) -> Iterator[Step]:
    yield Step(
        key="rough_cut",
        title=fitting(
            f"Cut the {stock_names(plan, solid)} to rough length",
            "Cut the boards to rough length",
        ),
        stage="mill",
        machine="mitre_saw",
        other_ways=(
            OtherWay(machine="table_saw", note="At the mitre gauge."),
            OtherWay(machine="hand_tools", note="Crosscut saw at the bench."),
        ),
        cautions=(*MACHINES["mitre_saw"].cautions, "length"),
        note="About an inch over, clear of checks and knots. Keep short parts together "
        "in one piece until they are planed.",
    )
    yield Step(
        key="flatten",
        title="Joint one face and one edge of every board",
        stage="mill",
        machine="jointer",
        other_ways=(
            OtherWay(machine="planer", note="The face on a sled, shimmed."),
            OtherWay(machine="hand_tools", note="Jack and jointer plane, sticks."),
        ),
        cautions=(*MACHINES["jointer"].cautions, "length"),
        note="Hollow side down, with the grain. Mark flat face and square edge.",
    )


def _plane(plan: Plan, keys: list[str]) -> Step:
    return Step(
        key=f"plane_{keys[0]}",
        title=fitting(
            f"Plane the {stock_names(plan, keys)} to thickness",
            "Plane the boards to thickness",
        ),
        stage="mill",
        machine="planer",
        other_ways=(OtherWay(machine="hand_tools", note="Gauge line, then planes."),),
        cautions=(*MACHINES["planer"].cautions, "length"),
        note="Flat face down. All boards go through at each setting, the last one too, "
        "so that they come out alike.",
    )


def size_steps(plan: Plan, rounds: Rounds, now: int) -> Iterator[Step]:
    """Yield the steps that cut the parts of one round to their sizes."""
    here = [part for part in plan.parts if rounds.part[part.key] == now]
    kinds = {part.key: plan.stock_by_key[part.stock].kind for part in here}
    solid = tuple(key for key, kind in kinds.items() if kind == SOLID)
    sheet = tuple(key for key, kind in kinds.items() if kind != SOLID)
    later = [key for key, n in rounds.part.items() if n > 0 and now == 0]
    if solid:
        yield _rip(plan, rounds, solid, later)
        yield _crosscut(plan, rounds, solid)
    if sheet:
        yield _sheet_parts(plan, rounds, sheet)


def _measured_first(
    plan: Plan, rounds: Rounds, parts: tuple[str, ...]
) -> tuple[str, ...]:
    """Return what sizes come from: every thickness, and what the parts wait for."""
    waits = (key for part in parts for key in rounds.waits[part])
    return tuple(dict.fromkeys([*waits, *(STOCK + part.stock for part in plan.parts)]))


def _stage(rounds: Rounds, parts: tuple[str, ...]) -> Stage:
    return "fitted" if rounds.part[parts[0]] else "mill"


def _key(wanted: str, stage: Stage) -> str:
    return f"{wanted}_fitted" if stage == "fitted" else wanted


def _rip(plan: Plan, rounds: Rounds, parts: tuple[str, ...], later: list[str]) -> Step:
    names, stage = part_names(plan, parts), _stage(rounds, parts)
    notes = ["Sound edge against the fence. Write its name on every part at once."]
    if has_pair(plan, parts):
        notes.append("Both parts of a pair at one fence setting.")
    if later:
        notes.append(f"Set aside wood for the {part_names(plan, later)}: not cut yet.")
    return Step(
        key=_key("rip", stage),
        title=fitting(f"Rip the {names} to width", "Rip the parts to width"),
        stage=stage,
        machine="table_saw",
        other_ways=(
            OtherWay(machine="band_saw", note="Beside the line, then plane to it."),
            OtherWay(machine="hand_tools", note="Rip saw, then plane to the line."),
        ),
        parts=parts,
        measured_first=_measured_first(plan, rounds, parts),
        cautions=(*MACHINES["table_saw"].cautions, "length"),
        note=" ".join(notes),
    )


def _crosscut(plan: Plan, rounds: Rounds, parts: tuple[str, ...]) -> Step:
    names, stage = part_names(plan, parts), _stage(rounds, parts)
    notes = ["Square one end first, then cut to the size on your cut sheet."]
    if has_pair(plan, parts):
        notes.append("Both parts of a pair against one stop.")
    return Step(
        key=_key("crosscut", stage),
        title=fitting(f"Cut the {names} to length", "Cut the parts to length"),
        stage=stage,
        machine="mitre_saw",
        other_ways=(
            OtherWay(
                machine="table_saw",
                note="On a sled; for parts wider than the mitre saw takes.",
            ),
            OtherWay(machine="hand_tools", note="Crosscut saw, then shoot the end."),
        ),
        parts=parts,
        measured_first=_measured_first(plan, rounds, parts),
        cautions=(*MACHINES["mitre_saw"].cautions, "length"),
        note=" ".join(notes),
    )


def _sheet_parts(plan: Plan, rounds: Rounds, parts: tuple[str, ...]) -> Step:
    stage = _stage(rounds, parts)
    return Step(
        key=_key("cut_sheet_parts", stage),
        title=fitting(
            f"Cut the {part_names(plan, parts)} to size",
            "Cut the parts of sheet stock to size",
        ),
        stage=stage,
        machine="table_saw",
        other_ways=(
            OtherWay(machine="band_saw", note="Beside the line, then plane to it."),
            OtherWay(machine="hand_tools", note="Fine saw along a straight edge."),
        ),
        parts=parts,
        measured_first=_measured_first(plan, rounds, parts),
        cautions=MACHINES["table_saw"].cautions,
        note="Good face up at the table saw. Two people carry and feed a large sheet.",
    )
