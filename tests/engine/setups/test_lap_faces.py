"""Which faces half laps are cut from, worked by hand.

In a half lap each part loses half its thickness and what is left of one fills what is
taken off the other, so that both lie level: the faces cut into look at each other, so
one is the part's front and the other the other part's back.
"""

import json
from pathlib import Path
from types import SimpleNamespace

import pytest

from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Readings
from projects.engine.setups.lap_faces import lap_sides
from projects.engine.setups.settings import step_settings
from projects.engine.steps import propose
from tests.engine.builds import data, distance, joint, part, plan, size, solved
from tests.engine.setups.setting_builds import framed, settings


def frame(**more):
    """Return a front frame: a rail between two stiles, a short stile on the rail.

    The stiles are a pair; all lie level front and back, 3/4 thick.
    """
    return solved(
        data(
            [
                part("left_stile", "zxy", pair="right_stile"),
                part("right_stile", "zxy", pair="left_stile"),
                part("rail", "xzy"),
                part("middle", "zxy"),
            ],
            joints=[
                joint("l", "half_lap", "rail.left", "left_stile.right"),
                joint("r", "half_lap", "rail.right", "right_stile.left"),
                joint("m", "half_lap", "middle.bottom", "rail.top"),
            ],
            distances=[
                size("left_stile", "length", "zxy", "30"),
                size("left_stile", "width", "zxy", "2"),
                size("right_stile", "length", "zxy", "30"),
                size("right_stile", "width", "zxy", "2"),
                size("rail", "length", "xzy", "20"),
                size("rail", "width", "xzy", "3"),
                size("middle", "length", "zxy", "12"),
                size("middle", "width", "zxy", "2"),
                distance("up", "left_stile.bottom", "rail.bottom", "4"),
                distance("in", "rail.left", "middle.left", "9"),
            ],
            flush=[
                ["left_stile.front", "right_stile.front", "rail.front",
                 "middle.front"],
                ["left_stile.bottom", "right_stile.bottom"],
            ],
        )
    )  # fmt: skip


def worked(found):
    """Return the face worked of each piece, by joint and part."""
    return {
        (piece.joint, piece.part): piece.worked[0]
        for setting in found
        for piece in setting.pieces
        if setting.kind == "lap"
    }


def test_the_two_that_meet_are_cut_from_opposite_faces():
    found = worked(settings(framed("half_lap"), "table_saw", "j"))

    assert found == {("j", "stile"): "back", ("j", "rail"): "front"}


def test_a_part_keeps_one_face_for_all_its_laps():
    """Stiles from the back, so the rail from the front, so the short one from the back.

    No part has to be turned over between two laps, though the rail is guest in two
    joints and host in the third.
    """
    found = worked(settings(frame(), "table_saw", "l", "r", "m"))

    assert found == {
        ("l", "left_stile"): "back", ("l", "rail"): "front",
        ("r", "right_stile"): "back", ("r", "rail"): "front",
        ("m", "rail"): "front", ("m", "middle"): "back",
    }  # fmt: skip


def test_faces_hang_on_the_plan_not_on_what_one_step_cuts():
    alone = worked(settings(frame(), "table_saw", "m", parts=("middle",)))

    assert alone == {("m", "middle"): "back"}


def test_the_stools_frames_are_mirror_images():
    """Legs on their inside, rails on their outside: the rails' dowels go in inside.

    The left frame's inside is its right; the right frame's is its left.
    """
    read = plan(json.loads(Path("projects/demo/plans/step_stool.json").read_text()))
    solution = solve(read, Readings())
    steps = [step for step in propose(read) if "half_lap" in step.key]
    found = worked(
        setting
        for step in steps
        for setting in step_settings(solution, step, step.machine)
    )
    looks = {
        (piece.part.split("_")[2], piece.looks)
        for step in steps
        for setting in step_settings(solution, step, step.machine)
        for piece in setting.pieces
    }

    assert len(found) == 16
    for (key, part_key), face in found.items():
        is_right = part_key.startswith("left") is part_key.endswith("leg")
        assert face == ("right" if is_right else "left"), key
    assert looks == {("leg", "inside"), ("rail", "outside")}


@pytest.mark.parametrize("first", [0, 1, 2])
def test_round_an_odd_loop_each_part_still_has_a_side_as_host(first):
    """Three parts each over the next: one is cut from both faces, by its hosts."""
    names = ("a", "b", "c")
    laps = [
        SimpleNamespace(
            kind="half_lap",
            host=SimpleNamespace(part=names[n % 3]),
            guest=SimpleNamespace(part=names[(n + 1) % 3]),
        )
        for n in range(first, first + 3)
    ]
    parts = {name: SimpleNamespace(pair=None) for name in names}
    sums = SimpleNamespace(plan=SimpleNamespace(joints=laps, part_by_key=parts))
    sides = lap_sides.__wrapped__(sums)

    assert set(sides) == set(names)
    assert sides[names[first]]
