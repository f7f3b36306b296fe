"""Steps proposed from a plan's joints."""

import json
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.joints import KINDS
from projects.engine.plan.reader import read_plan
from projects.engine.plan.steps import STAGES, step_data
from projects.engine.shop.cautions import CAUTIONS
from projects.engine.shop.machines import MACHINES
from projects.engine.steps import order_faults, propose
from projects.engine.steps.cutting import CUTTINGS, IN_ORDER, must_cut
from projects.engine.steps.turns import CUTTING, sides
from tests.engine.builds import boot_bench, data, distance, joint, part, plan
from tests.engine.steps.plans import DEMO, STOP, case, case_data, demo, random_plan

DEMOS = ("hall_boot_bench", "step_stool", "tool_tray")


def step_of(steps, key):
    return next(step for step in steps if step.key == key)


def place(steps, key):
    return [step.key for step in steps].index(key)


def cuts(read, steps):
    """Return each cut made, as joint and part, in the order of the steps."""
    return [
        (key, side)
        for step in steps
        if step.stage in CUTTING
        for key in step.joints
        for side in sides(step, read.joint_by_key[key])
    ]


def check(read, steps):
    """Assert the laws that hold for what is proposed for any plan."""
    assert order_faults(read, steps) == ()
    assert len({step.key for step in steps}) == len(steps) <= 200
    wanted = {(joint.key, p) for joint in read.joints for p in must_cut(joint)}
    assert wanted <= set(cuts(read, steps))
    sized = [key for step in steps if not step.joints and step.machine != "none"
             and step.stage in ("mill", "fitted") for key in step.parts]  # fmt: skip
    assert set(sized) == {p.key for p in read.parts}


def read_back(read_text, steps):
    """Return the steps as a plan file with them gives them."""
    whole = {**json.loads(read_text), "steps": [step_data(step) for step in steps]}
    return read_plan(json.dumps(whole)).steps


class TestTheBench:
    def test_it_reads_like_an_instructors_list(self):
        assert [(s.stage, s.title) for s in propose(demo("hall_boot_bench"))] == [
            ("mill", "Cut the 3/4 in yellow-poplar to rough length"),
            ("mill", "Joint one face and one edge of every board"),
            ("mill", "Plane the 3/4 in yellow-poplar to thickness"),
            ("mill", "Measure and log how thick the 3/4 in yellow-poplar and "
                     "1/4 in plywood came out"),
            ("mill", "Rip the left and right side, seat, lower shelf and centre "
                     "divider to width"),
            ("mill", "Cut the left and right side, seat, lower shelf and centre "
                     "divider to length"),
            ("mill", "Cut the plywood back to size"),
            ("joinery", "Cut the stopped dadoes for the lower shelf in the left and "
                        "right side"),
            ("joinery", "Cut the stopped dadoes for the centre divider in the lower "
                        "shelf and seat"),
            ("joinery", "Cut the rabbets for the seat in the left and right side"),
            ("joinery", "Cut the grooves for the plywood back in the left and right "
                        "side and seat"),
            ("joinery", "Cut the mortises for the back rail in the left and right "
                        "side"),
            ("joinery", "Notch the corners of the lower shelf"),
            ("joinery", "Notch the corners of the centre divider"),
            ("dry_fit", "Dry fit and measure the opening between the sides"),
            ("fitted", "Rip the back rail and toe board to width"),
            ("fitted", "Cut the back rail and toe board to length"),
            ("fitted", "Cut the tenons on the back rail"),
            ("fitted", "Try the back rail and toe board in the dry assembly"),
            ("shaping", "Ease the edges that hands will touch"),
            ("sanding", "Sand the faces that will show"),
            ("assembly", "Rehearse the glue-up, then glue and clamp"),
            ("finish", "Sand lightly, dust off and put on the finish"),
        ]  # fmt: skip

    def test_each_cut_is_made_once(self):
        read = demo("hall_boot_bench")
        made = cuts(read, propose(read))
        notches = {
            ("shelf_left", "shelf"),
            ("shelf_right", "shelf"),
            ("divider_bottom", "divider"),
            ("divider_top", "divider"),
        }
        must = {(j.key, p) for j in read.joints for p in must_cut(j)}

        assert len(made) == len(set(made))
        assert set(made) == must | notches

    def test_the_parts_that_fit_the_opening_wait_for_it(self):
        steps = propose(demo("hall_boot_bench"))

        assert step_of(steps, "dry_fit").measures == ("opening",)
        for key in ("rip_fitted", "crosscut_fitted", "tenon_rail_left"):
            assert step_of(steps, key).measured_first[0] == "opening"
            assert place(steps, key) > place(steps, "dry_fit")
        assert "back rail and toe board: not cut yet" in step_of(steps, "rip").note

    def test_the_slots_wait_for_what_sits_in_them(self):
        steps = propose(demo("hall_boot_bench"))
        groove = step_of(steps, "groove_back_left")

        assert groove.measured_first == ("stock:ply14",)
        assert place(steps, "log_thickness") < place(steps, "groove_back_left")

    def test_a_mirrored_pair_shares_a_step_that_says_so(self):
        steps = propose(demo("hall_boot_bench"))

        assert step_of(steps, "dado_shelf_left").parts == ("left_side", "right_side")
        assert "mirror images" in step_of(steps, "dado_shelf_left").note
        assert "mirror images" not in step_of(steps, "dado_divider_bottom").note


class TestAnyPlan:
    @pytest.mark.parametrize("name", DEMOS)
    def test_the_demo_plans(self, name):
        read = demo(name)

        check(read, propose(read))

    @settings(derandomize=True, max_examples=300, deadline=None)
    @given(st.integers(0, 10**9))
    def test_it_has_no_faults(self, seed):
        read = random_plan(seed)

        check(read, propose(read))

    @pytest.mark.parametrize("name", DEMOS)
    def test_a_plan_file_takes_it_and_gives_it_back(self, name):
        read = demo(name)
        text = (DEMO / f"{name}.json").read_text()

        assert read_back(text, propose(read)) == propose(read)

    @pytest.mark.parametrize("name", DEMOS)
    def test_every_caution_and_machine_is_known(self, name):
        for step in propose(demo(name)):
            assert set(step.cautions) <= CAUTIONS.keys()
            assert set(MACHINES[step.machine].cautions) <= set(step.cautions)
            assert all(way.machine in MACHINES for way in step.other_ways)

    @pytest.mark.parametrize("name", DEMOS)
    def test_the_same_plan_gives_the_same_steps(self, name):
        assert propose(demo(name)) == propose(demo(name))

    def test_a_new_joint_leaves_the_other_keys_alone(self):
        whole = case_data()
        before = {step.key for step in propose(plan(whole))}
        whole["parts"].append(part("drawer_runner", "yzx"))
        whole["joints"].insert(0, joint(
            "runner", "groove", "drawer_runner.left", "left_side.right", depth="1/4",
        ))  # fmt: skip

        assert before < {step.key for step in propose(plan(whole))}


class TestJoinery:
    def test_every_kind_of_joint_has_its_way(self):
        assert set(CUTTINGS) == set(KINDS)
        assert [stage for stage in STAGES if stage in CUTTING] == list(CUTTING)
        assert all(c.machine in MACHINES and c.titles for c in IN_ORDER)

    @pytest.mark.parametrize(
        ("kind", "more", "made"),
        [
            ("dado", {"depth": "3/8"}, [("table_saw", ("stile",))]),
            ("rabbet", {"depth": "3/8"}, [("table_saw", ("stile",))]),
            ("groove", {"depth": "3/8"}, [("table_saw", ("stile",))]),
            ("butt", {}, []),
            ("half_lap", {}, [("table_saw", ("stile", "rail"))]),
            ("dowel", {}, [("drill_press", ("stile", "rail"))]),
            ("tenon", {"depth": "1"},
             [("mortiser", ("stile",)), ("table_saw", ("rail",))]),
        ],
    )  # fmt: skip
    def test_the_cuts_of_a_kind(self, kind, more, made):
        of = data(
            [part("stile", "zxy"), part("rail", "xzy")],
            joints=[joint("j", kind, "rail.left", "stile.right", **more)],
            distances=[],
        )
        steps = [s for s in propose(plan(of)) if s.stage == "joinery"]

        assert [(s.machine, s.parts) for s in steps] == made
        assert all(s.joints == ("j",) and s.other_ways for s in steps)

    def test_a_stopped_dado_is_routed_and_its_guest_notched(self):
        of = boot_bench()
        of["joints"][0]["stops"] = [STOP]
        steps = [s for s in propose(plan(of)) if s.joints and s.stage != "dry_fit"]

        assert [(s.machine, s.parts) for s in steps if s.stage != "assembly"] == [
            ("table_saw", ("right_side",)),
            ("router", ("left_side",)),
            ("hand_tools", ("shelf",)),
        ]

    def test_cuts_of_one_setting_share_a_step(self):
        whole = case_data()
        whole["joints"][1]["depth"] = "1/4"
        apart = propose(plan(whole))

        assert step_of(propose(case()), "dado_shelf_left").joints == (
            "shelf_left",
            "shelf_right",
        )
        assert step_of(apart, "dado_shelf_left").joints == ("shelf_left",)
        assert step_of(apart, "dado_shelf_right").joints == ("shelf_right",)

    def test_a_part_that_is_guest_and_host_is_cut_in_two_steps(self):
        of = data(
            [part("post", "zxy"), part("beam", "xzy"), part("strut", "zxy")],
            joints=[
                joint("one", "tenon", "beam.left", "post.right", depth="1/2"),
                joint("two", "tenon", "strut.bottom", "beam.top", depth="1/2"),
            ],
            distances=[],
        )
        read = plan(of)
        made = cuts(read, propose(read))

        assert sorted(made) == [("one", "beam"), ("one", "post"), ("two", "beam"),
                                ("two", "strut")]  # fmt: skip


class TestDryFits:
    def test_one_part_alone_is_not_put_together(self):
        steps = propose(plan(data([part("board", "xyz")])))

        assert {s.stage for s in steps} == {
            "mill", "shaping", "sanding", "finish",
        }  # fmt: skip

    def test_a_part_fitted_to_another_fitted_part_has_a_dry_fit_of_its_own(self):
        whole = case_data()
        whole["parts"].append(part("plug", "xzy"))
        whole["distances"].append(
            distance("over_rail", "rail.top", "shelf.bottom",
                     measure="dry_fit", fits=["plug"])
        )  # fmt: skip
        steps = propose(plan(whole))

        assert [(s.key, s.measures) for s in steps if s.stage == "dry_fit"] == [
            ("dry_fit", ("opening",)),
            ("dry_fit_2", ("over_rail",)),
        ]
        assert step_of(steps, "crosscut_fitted_2").parts == ("plug",)
        assert step_of(steps, "try_fitted").parts == ("rail", "plug")

    def test_parts_that_wait_for_each_other_are_cut_all_the_same(self):
        whole = case_data()
        whole["distances"][-1]["fits"] = ["left_side"]
        read = plan(whole)

        check(read, propose(read))

    def test_a_long_chain_of_fits_comes_to_an_end(self):
        parts = [part(f"p{n}", "xyz") for n in range(60)]
        fits = [
            distance(f"d{n}", f"p{n}.left", f"p{n}.right",
                     measure="dry_fit", fits=[f"p{n + 1}"])
            for n in range(59)
        ]  # fmt: skip
        read = plan(data(parts, distances=fits))
        steps = propose(read)

        check(read, steps)
        assert len(steps) < 60

    def test_a_size_that_depends_on_the_distance_waits_without_being_named(self):
        whole = case_data()
        del whole["distances"][-1]["fits"]
        steps = propose(plan(whole))

        assert step_of(steps, "crosscut_fitted").parts == ("shelf", "rail")


class TestManyCuts:
    def test_a_plan_with_too_many_settings_still_fits_a_plan_file(self):
        parts = [part("host", "xyz"), *(part(f"p{n}", "zyx") for n in range(150))]
        joints = [
            joint(f"j{n}", "dado", f"p{n % 150}.bottom", "host.top",
                  depth=f"{Fraction(n + 1, 1000)}")
            for n in range(300)
        ]  # fmt: skip
        read = plan(data(parts, joints=joints, distances=[]))
        steps = propose(read)

        check(read, steps)
        assert len(step_of(steps, "dado_j0").joints) == 300

    def test_long_names_leave_a_title_that_can_be_read(self):
        whole = case_data()
        for n, entry in enumerate(whole["parts"]):
            entry["name"] = f"{n} {'X' * 78}"
        read = plan(whole)
        text = json.dumps(whole)

        assert read_back(text, propose(read)) == propose(read)
        assert step_of(propose(read), "rip").title == "Rip the parts to width"
        assert step_of(propose(read), "dado_shelf_left").title == "Dadoes in 2 parts"


class TestGlue:
    def test_solid_wood_in_a_groove_gets_no_glue(self):
        of = data(
            [part("stile", "zxy"), part("panel", "zxy")],
            joints=[joint("j", "groove", "panel.left", "stile.right", depth="3/8")],
        )

        assert "No glue on the panel" in step_of(propose(plan(of)), "glue_up").note
        assert "No glue" not in step_of(propose(case()), "glue_up").note
