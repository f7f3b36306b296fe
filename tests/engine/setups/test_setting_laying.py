"""How parts are laid for a setting; and what holds for all plans."""

import json
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from projects.engine.errors import EngineError
from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Readings
from projects.engine.plan.records import FACES
from projects.engine.setups.setting_laying import lead
from projects.engine.setups.settings import DONE_AT, step_settings
from projects.engine.shop.machines import MACHINES
from projects.engine.steps import propose
from tests.engine.builds import (
    data,
    distance,
    inches,
    joint,
    part,
    plan,
    size,
    solved,
)
from tests.engine.random_plans import random_build
from tests.engine.setups.setting_builds import (
    case,
    numbers,
    only,
    settings,
    where,
)

PLANS = Path("projects/demo/plans")


class TestPlaces:
    def test_a_place_the_plan_leaves_open_is_left_out(self):
        of = case()
        of["distances"] = [d for d in of["distances"] if d["key"] != "shelf_height"]
        setting = only(settings(solved(of), "table_saw", "shelf_left"))

        assert where(setting) == ("slot", "none", "none")
        assert set(numbers(setting)) == {"width", "height"}

    def test_a_guest_past_its_host_is_no_cut(self):
        of = case()
        of["distances"][1]["value"] = "30"

        assert settings(solved(of), "table_saw", "shelf_left") == ()

    def test_a_pair_that_does_not_mirror_is_laid_part_by_part(self):
        """The right one's shelf sits 3 in higher."""
        of = case()
        of["parts"].append(part("other", "xyz"))
        of["joints"][1] |= {"guest": "other.right"}
        of["distances"] += [
            distance("other_height", "right_side.bottom", "other.bottom", "9"),
            size("other", "length", "xyz", "20"),
        ]
        of["flush"][0].append("other.front")
        of["flush"][1].append("other.back")
        of["distances"].append(size("shelf", "length", "xyz", "35"))
        found = settings(solved(of), "table_saw", "shelf_left", "shelf_right")

        assert [numbers(s)["stop"] for s in found] == [6, 9]
        assert [p.mirrors for s in found for p in s.pieces] == [None, None]

    def test_a_pair_cut_for_other_joints_does_not_mirror(self):
        of = case()
        dowels = {"diameter": "3/8", "length": "1", "count": 2}
        of["joints"][1] = joint(
            "shelf_right", "dowel", "shelf.right", "right_side.left", dowels=dowels
        )
        found = settings(
            solved(of), "hand_tools", "shelf_left", "shelf_right",
            parts=("left_side", "right_side"),
        )  # fmt: skip

        assert [s.kind for s in found] == ["slot", "hole"]
        assert [p.mirrors for s in found for p in s.pieces] == [None, None]

    def test_a_pair_mirrored_along_its_length_has_mirrored_ends_at_the_stop(self):
        """Two rails end to end, each with a post 2 in from its outer end.

        Left rail, front down: back up, left end to the right, so the top is ahead.
        """
        of = data(
            [
                part("left_rail", "xzy", pair="right_rail"),
                part("right_rail", "xzy", pair="left_rail"),
                part("post_l", "zyx"), part("post_r", "zyx"),
            ],
            joints=[
                joint("l", "dado", "post_l.back", "left_rail.front", depth="1/4"),
                joint("r", "dado", "post_r.back", "right_rail.front", depth="1/4"),
            ],
            distances=[
                *(size(key, dimension, "xzy", value)
                  for key in ("left_rail", "right_rail")
                  for dimension, value in (("length", "20"), ("width", "4"))),
                *(size(key, dimension, "zyx", value)
                  for key in ("post_l", "post_r")
                  for dimension, value in (("length", "4"), ("width", "3"))),
                distance("l_in", "left_rail.left", "post_l.left", "2"),
                distance("r_in", "post_r.right", "right_rail.right", "2"),
            ],
            flush=[["left_rail.bottom", "right_rail.bottom", "post_l.bottom",
                    "post_r.bottom"], ["left_rail.front", "right_rail.front"],
                   ["left_rail.right", "right_rail.left"]],
        )  # fmt: skip
        found = settings(solved(of), "router_table", "l", "r")
        pieces = [piece for setting in found for piece in setting.pieces]

        assert [piece.against for piece in pieces] == [("left",), ("right",)]
        assert [piece.leads for piece in pieces] == ["top", "bottom"]
        assert only(found).stop_mm == inches(2)


class TestLead:
    def test_is_a_turn_and_never_a_mirror(self):
        """Up, towards the stop and ahead are right-handed: x right, y back, z up.

        A part lying as it stands in the piece, right face at the stop, leads with its
        back.
        """
        assert lead("bottom", "right") == "back"

    def test_a_mirrored_part_leads_with_the_mirrored_edge_turned_round(self):
        for down, (axis, _) in FACES.items():
            for against, (other, _) in FACES.items():
                if axis == other:
                    continue
                ahead = lead(down, against)
                opposite = next(
                    f for f, of in FACES.items()
                    if of == (FACES[ahead][0], not FACES[ahead][1])
                )  # fmt: skip
                turned = next(
                    f for f in FACES if FACES[f] == (axis, not FACES[down][1])
                )

                assert FACES[ahead][0] not in (axis, other)
                assert lead(turned, against) == opposite


def lies_flat(solution, key):
    """Return whether a joint's guest lies on its host: its slot is wide, not thick."""
    joint = solution.plan.joint_by_key[key]
    guest = solution.plan.part_by_key[joint.guest.part]
    return guest.axes["thickness"] == joint.host.axis


def demo(name):
    return plan(json.loads((PLANS / f"{name}.json").read_text("utf-8")))


class TestAllPlans:
    @pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
    def test_each_cutting_step_of_the_demo_plans_has_settings(self, name):
        read = demo(name)
        solution = solve(read, Readings())
        for of in propose(read):
            if of.joints and of.stage in ("joinery", "fitted"):
                for machine in (of.machine, *(way.machine for way in of.other_ways)):
                    assert step_settings(solution, of, machine), (of.key, machine)

    @pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
    def test_keys_name_the_step_the_machine_and_the_kind(self, name):
        read = demo(name)
        solution = solve(read, Readings())
        for of in propose(read):
            for setting in step_settings(solution, of, of.machine):
                assert setting.key.startswith(f"{of.key}:{of.machine}:{setting.kind}:")
                for quantity in setting.quantities:
                    assert quantity.key == f"{setting.key}:{quantity.name}"

    @hypothesis_settings(deadline=None, max_examples=80)
    @given(st.integers(0, 10**6))
    @example(141)
    def test_random_builds_have_sums_that_hold(self, seed):
        of, readings = random_build(seed)
        try:
            solution = solved(of, readings)
        except EngineError:
            return
        joints = tuple(joint.key for joint in solution.plan.joints)
        for machine in MACHINES:
            for setting in settings(solution, machine, *joints):
                for quantity in setting.quantities:
                    if quantity.mm is None:
                        assert setting.waits
                        continue
                    form_mm = quantity.form.value(solution.values)
                    extras_mm = sum(extra.mm for extra in quantity.extras)
                    assert form_mm + extras_mm == quantity.mm
                if setting.kind in ("slot", "groove") and not setting.waits:
                    made = [solution.cuts[piece.joint] for piece in setting.pieces]
                    assert {cut.depth_mm for cut in made} == {setting.height_mm}
                    if not any(lies_flat(solution, p.joint) for p in setting.pieces):
                        assert len({cut.width_mm for cut in made}) == 1

    def test_every_kind_is_made_at_a_known_machine(self):
        assert {m for machines in DONE_AT.values() for m in machines} <= set(MACHINES)
