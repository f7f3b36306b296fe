"""The settings of a step at a machine: each setup once, with the parts it serves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from projects.engine.fit.solve import Solution
from projects.engine.plan.records import FACES, Part
from projects.engine.plan.steps import STOCK, Step
from projects.engine.setups import setting_guests as guests
from projects.engine.setups.setting_hosts import HOST_CUTS
from projects.engine.setups.setting_laying import Aimed, aim, piece
from projects.engine.setups.setting_records import (
    KINDS,
    SHORTS,
    Kind,
    Name,
    Quantity,
    Rest,
    Setting,
    Sum,
)
from projects.engine.setups.setting_sums import Sums
from projects.engine.setups.setting_work import Work
from projects.engine.shop.machines import HAND_TOOLS
from projects.engine.steps.sizing import SOLID, dimensions_cut

_SLOTS = ("table_saw", "router", "router_table", HAND_TOOLS)
DONE_AT: dict[Kind, tuple[str, ...]] = {
    "thickness": ("planer", HAND_TOOLS),
    "rip": ("table_saw", "band_saw", HAND_TOOLS),
    "crosscut": ("mitre_saw", "table_saw", "band_saw", HAND_TOOLS),
    "slot": _SLOTS,
    "groove": _SLOTS,
    "rabbet": _SLOTS,
    "lap": (*_SLOTS, "band_saw"),
    "mortise": ("mortiser", "drill_press", "router", HAND_TOOLS),
    "shoulder": ("table_saw", "router_table", "band_saw", HAND_TOOLS),
    "cheek": ("table_saw", "band_saw", HAND_TOOLS),
    "hole": ("drill_press", HAND_TOOLS),
    "notch": (HAND_TOOLS, "band_saw"),
}
"""The machines each kind of setup is made at.

Source: common practice, no source.
"""
_sums = lru_cache(maxsize=4)(Sums)
CUTTING = ("mill", "joinery", "fitted", "shaping")


def step_settings(solution: Solution, step: Step, machine: str) -> tuple[Setting, ...]:
    """Return the settings of a step done at a machine, in the order to make them.

    Parts with the same numbers share one setting. One stop or fence stays in place
    for all settings that share it; what waits for a dry fit comes last. A step that
    cuts nothing, or nothing that is cut at this machine, has none.
    """
    if step.stage not in CUTTING:
        return ()
    sums = _sums(solution)
    works = list(_joint_works(sums, step) if step.joints else _size_works(sums, step))
    aimed = aim([work for work in works if machine in DONE_AT[work.kind]])
    merged: list[Setting] = []
    for one in aimed:
        made = _setting(sums, one, step, machine)
        for place, before in enumerate(merged):
            if _alike(made, before):
                pieces = (*before.pieces, *made.pieces)
                merged[place] = replace(before, pieces=pieces)
                break
        else:
            merged.append(made)
    return tuple(sorted(merged, key=_turn))


def _alike(one: Setting, other: Setting) -> bool:
    """Return whether two settings are one: the same setup with the same numbers."""
    if (one.key, one.waits) != (other.key, other.waits):
        return False
    numbers, others = one.quantities, other.quantities
    return [q.name for q in numbers] == [q.name for q in others] and all(
        q.form == o.form and q.extras == o.extras if q.mm is None else q.mm == o.mm
        for q, o in zip(numbers, others, strict=True)
    )


def _turn(setting: Setting) -> tuple[object, ...]:
    """Return what settings are ordered by: kind, then the stop, then the rest.

    A stack or bit can be set again just as it was, a stop can't: so it is the stop
    that stays.
    """
    numbers = [setting.stop_mm, setting.width_mm, setting.height_mm]
    return (
        bool(setting.waits),
        KINDS.index(setting.kind),
        setting.rest,
        setting.side,
        [Fraction(-1) if mm is None else mm for mm in numbers],
    )


def _joint_works(sums: Sums, step: Step) -> Iterator[Work]:
    """Give the cuts of a step's joints on those of their parts that it works."""
    for key in step.joints:
        joint = sums.plan.joint_by_key[key]
        ends = (joint.host.part, joint.guest.part)
        worked = [part for part in ends if part in step.parts] or ends
        if joint.host.part in worked:
            yield from HOST_CUTS[joint.kind](sums, joint)
        if joint.guest.part in worked:
            yield from guests.GUEST_CUTS[joint.kind](sums, joint)


def _size_works(sums: Sums, step: Step) -> Iterator[Work]:
    """Give what a step without joints cuts its parts to."""
    if step.machine == "planer":
        for part in _planed(sums, step):
            yield guests.thickness(sums, part)
    elif step.stage in ("mill", "fitted"):
        plan = sums.plan
        for key in step.parts:
            for dimension in dimensions_cut(plan, plan.steps, step, key):
                cut = guests.width if dimension == "width" else guests.length
                yield cut(sums, plan.part_by_key[key])


def _planed(sums: Sums, step: Step) -> list[Part]:
    """Return the parts whose stock a step planes: those it names, else all solid."""
    plan = sums.plan
    named = {
        key.removeprefix(STOCK)
        for key in (*step.measures, *step.measured_first)
        if key.startswith(STOCK)
    }
    named |= {stock.key for stock in plan.stock if step.key == f"plane_{stock.key}"}
    solid = {stock.key for stock in plan.stock if stock.kind == SOLID}
    return [
        part
        for part in plan.parts
        if part.stock in solid
        and (part.key in step.parts if step.parts else not named or part.stock in named)
    ]


def _setting(sums: Sums, aimed: Aimed, step: Step, machine: str) -> Setting:
    rest, side = _rest(aimed), aimed.side
    key = ":".join((step.key, machine, aimed.work.kind, rest, side))
    named = list(_named(aimed))
    return Setting(
        key=key,
        kind=aimed.work.kind,
        machine=machine,
        rest=rest,
        side=side,
        quantities=tuple(
            Quantity(
                name=name,
                key=f"{key}:{name}",
                mm=None if said.waits else said.mm,
                form=said.form,
                extras=said.extras,
            )
            for name, said in named
        ),
        pieces=(piece(sums, aimed, machine),),
        waits=tuple(dict.fromkeys(key for _, said in named for key in said.waits)),
    )


def _named(aimed: Aimed) -> Iterator[tuple[Name, Sum]]:
    """Give the numbers of a work with their names."""
    work = aimed.work
    if aimed.stop:
        yield "stop", aimed.stop
    # where the cut runs out at the end, the stop alone says how wide it gets
    if work.width and aimed.side != "far":
        yield "width", work.width
    if work.height:
        yield "height", work.height
    if aimed.start:
        yield "start", work.runs[aimed.start].short
    if work.length:
        yield "length", work.length
        return
    # where what sits in it ends nothing is set: the cut may as well run on
    stops = [run.short for run in work.runs.values() if not run.at_least]
    yield from zip(SHORTS, sorted(stops, key=lambda short: short.mm), strict=False)


def _rest(aimed: Aimed) -> Rest:
    """Return what the part lies against: a stop along its length, else a fence."""
    work = aimed.work
    if work.kind == "notch" or (work.stop is None and aimed.end is None):
        return "none"
    if work.kind == "crosscut":
        return "stop"
    if aimed.end and FACES[aimed.end][0] == work.part.axes["length"]:
        return "stop"
    return "fence"
