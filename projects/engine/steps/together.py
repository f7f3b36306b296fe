"""The steps in which parts come together: dry fit, trying, glue-up, finish.

Source of the notes: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from projects.engine.plan.records import Plan
from projects.engine.plan.steps import OtherWay, Step
from projects.engine.shop.machines import MACHINES, NO_MACHINE
from projects.engine.steps.milling import SOLID
from projects.engine.steps.rounds import Rounds
from projects.engine.steps.words import fitting, in_a_row, in_text, part_names


def dry_fit(plan: Plan, rounds: Rounds, now: int) -> Iterator[Step]:
    """Yield the dry fit that follows a round of cutting, or the last trying."""
    measures = tuple(key for key, n in rounds.distance.items() if n == now)
    if now and not measures:
        if now == rounds.last:
            yield _try_fitted(plan, rounds)
        return
    if len(plan.parts) < 2 and not measures:
        return
    parts = tuple(p.key for p in plan.parts if rounds.part[p.key] <= now)
    names = [in_text(plan.distance_by_key[key].name) for key in measures]
    yield Step(
        key="dry_fit",
        title=fitting(
            f"Dry fit and measure the {in_a_row(names)}"
            if names
            else "Dry fit all parts",
            "Dry fit and measure what the cut sheet asks for",
        ),
        stage="dry_fit",
        parts=parts,
        joints=tuple(
            joint.key
            for joint in plan.joints
            if joint.guest.part in parts and joint.host.part in parts
        ),
        measures=measures,
        note="Clamps, no glue. Every joint closed, both diagonals alike. "
        + (
            "Measure right at the joints, not in the middle of a board that may bow."
            if measures
            else "Mark which parts meet where."
        ),
    )


def _try_fitted(plan: Plan, rounds: Rounds) -> Step:
    fitted = tuple(key for key, n in rounds.part.items() if n)
    return Step(
        key="try_fitted",
        title=fitting(
            f"Try the {part_names(plan, fitted)} in the dry assembly",
            "Try the fitted parts in the dry assembly",
        ),
        stage="fitted",
        parts=fitted,
        note="Each should slide in by hand and leave the other joints closed. Too "
        "long: a shaving at a time.",
    )


def closing_steps(plan: Plan) -> Iterator[Step]:
    """Yield the steps after all parts are cut and fitted."""
    parts = tuple(part.key for part in plan.parts)
    yield Step(
        key="ease_edges",
        title="Ease the edges that hands will touch",
        stage="shaping",
        machine="hand_tools",
        other_ways=(OtherWay(machine="router_table", note="A small round-over bit."),),
        parts=parts,
        cautions=MACHINES["hand_tools"].cautions,
        note="A light chamfer or round-over. Edges that meet in a joint stay sharp.",
    )
    yield Step(
        key="sand",
        title="Sand the faces that will show",
        stage="sanding",
        machine="sander",
        other_ways=(OtherWay(machine="hand_tools", note="Block, along the grain."),),
        parts=parts,
        cautions=MACHINES["sander"].cautions,
        note="Coarse to fine, the last grit along the grain; inside faces now, while "
        "they can be reached. Not the faces that sit in a joint: they would get loose.",
    )
    if len(parts) > 1:
        yield _glue_up(plan)
    yield Step(
        key="finish",
        title="Sand lightly, dust off and put on the finish",
        stage="finish",
        parts=parts,
        cautions=("finish", "dust"),
        note="Take off what is left of the glue first: it shows under a finish. Try "
        "the finish on an offcut.",
    )


def _glue_up(plan: Plan) -> Step:
    panels = [
        joint.guest.part
        for joint in plan.joints
        if joint.kind == "groove"
        and plan.stock_by_key[plan.part_by_key[joint.guest.part].stock].kind == SOLID
    ]
    notes = [
        "Rehearse with clamps and no glue, in the order of the dry fit. Then glue, "
        "close the joints and compare both diagonals before the glue takes hold."
    ]
    if panels:
        names = part_names(plan, panels)
        notes.append(f"No glue on the {names}: solid wood has to move in its groove.")
    return Step(
        key="glue_up",
        title="Rehearse the glue-up, then glue and clamp",
        stage="assembly",
        machine=NO_MACHINE,
        parts=tuple(part.key for part in plan.parts),
        joints=tuple(joint.key for joint in plan.joints),
        cautions=("clamps",),
        note=" ".join(notes),
    )
