"""Orders of steps that can't be done, each told with its steps."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.plan.steps import Step
from projects.engine.steps import order_faults, propose
from projects.engine.steps.faults import SAYINGS
from tests.engine.builds import distance
from tests.engine.steps.plans import case, case_data, demo, random_plan

CASE = case()


def step(key, stage, parts="", joints="", machine="hand_tools", **more):
    """Return a step; parts and joints are given as words."""
    return Step(
        key=key,
        title=key.replace("_", " ").capitalize(),
        stage=stage,
        machine=machine,
        parts=tuple(parts.split()),
        joints=tuple(joints.split()),
        **more,
    )


GOOD = (
    step("cut", "mill", "left_side right_side shelf"),
    step("dadoes", "joinery", "left_side right_side", "shelf_left shelf_right"),
    step("mortises", "joinery", "left_side right_side", "rail_left rail_right"),
    step("dry_fit", "dry_fit", machine="none", measures=("opening",)),
    step("rail", "fitted", "rail", measured_first=("opening",)),
    step("tenons", "fitted", "rail", "rail_left rail_right"),
    step("sand", "sanding"),
    step("glue", "assembly", machine="none"),
)


def in_order(*keys):
    """Return the good steps named, in this order."""
    by_key = {s.key: s for s in GOOD}
    return tuple(by_key[key] for key in keys)


def without(*keys):
    return tuple(s for s in GOOD if s.key not in keys)


def changed(key, **fields):
    return tuple(replace(s, **fields) if s.key == key else s for s in GOOD)


def found(steps, read=CASE):
    return [(fault.kind, fault.steps) for fault in order_faults(read, steps)]


class TestGoodOrders:
    def test_the_good_order_has_no_faults(self):
        assert order_faults(CASE, GOOD) == ()

    def test_no_steps_no_faults(self):
        assert order_faults(CASE, ()) == ()

    def test_dry_fits_and_fitted_parts_take_turns(self):
        again = step("again", "dry_fit", machine="none", measures=("shelf_up",))

        assert found((*GOOD[:6], again, *GOOD[6:])) == []

    def test_a_dry_fit_that_names_nothing_measures_what_no_step_names(self):
        assert found(changed("dry_fit", measures=())) == []

    def test_laying_out_at_the_bench_cuts_nothing(self):
        mark = step("mark", "mill", "left_side right_side shelf rail", machine="none")

        assert found((mark, *GOOD)) == []

    def test_milling_the_boards_of_a_part_does_not_cut_it(self):
        flat = step("flat", "mill", "rail shelf", machine="jointer")

        assert found((flat, *GOOD)) == []

    def test_a_fitted_part_may_be_ripped_before(self):
        rip = step("rip", "mill", "rail", machine="table_saw")

        assert found((rip, *GOOD)) == []

    def test_a_part_may_be_cut_together_with_its_joint(self):
        both = step("both", "fitted", "rail", "rail_left rail_right")
        steps = (*GOOD[:4], both, *GOOD[6:])

        assert found(steps) == []

    def test_a_joint_without_parts_is_cut_in_both(self):
        steps = (
            GOOD[0],
            step("dadoes", "joinery", joints="shelf_left shelf_right"),
            *GOOD[2:],
        )

        assert found(steps) == []


class TestStages:
    def test_a_stage_after_a_later_one(self):
        (fault,) = order_faults(CASE, in_order(
            "cut", "dadoes", "mortises", "dry_fit", "rail", "tenons", "glue", "sand",
        ))  # fmt: skip

        assert (fault.kind, fault.steps) == ("stage_order", ("sand", "glue"))
        assert fault.what == (
            '"Sand" belongs to sanding, but comes after "Glue" of assembly.'
        )
        assert fault.remedy == (
            'Move "Sand" before "Glue", or put it into another stage.'
        )

    def test_a_dry_fit_after_the_glue(self):
        steps = (*GOOD, step("late", "dry_fit", machine="none"))

        assert ("stage_order", ("late", "glue")) in found(steps)


class TestCutting:
    def test_a_part_never_cut(self):
        steps = changed("cut", parts=("left_side", "right_side"))
        (fault,) = order_faults(CASE, steps)

        assert (fault.kind, fault.steps) == ("part_never_cut", ())
        assert fault.about == ("shelf",)
        assert fault.what == "No step cuts the shelf to size."

    def test_a_joint_never_cut(self):
        (fault, other) = order_faults(CASE, without("dadoes"))

        assert fault.kind == other.kind == "joint_never_cut"
        assert fault.about == ("shelf_left", "left_side")
        assert fault.what == 'No step cuts "Shelf in Left side" in the left side.'

    def test_a_tenon_never_cut(self):
        assert [fault.about for fault in order_faults(CASE, without("tenons"))] == [
            ("rail_left", "rail"),
            ("rail_right", "rail"),
        ]

    def test_a_joint_before_its_parts(self):
        steps = (replace(GOOD[1], stage="mill"), GOOD[0], *GOOD[2:])
        (fault,) = order_faults(CASE, steps)

        assert (fault.kind, fault.steps) == ("joint_early", ("dadoes", "cut"))
        assert fault.about == ("left_side", "right_side")
        assert fault.what == (
            '"Dadoes" works on the left side and the right side, cut to size only in '
            '"Cut".'
        )

    def test_a_tenon_before_the_rail_has_its_length(self):
        steps = in_order(
            "cut", "dadoes", "mortises", "dry_fit", "tenons", "rail", "glue"
        )

        assert found(steps) == [("joint_early", ("tenons", "rail"))]


class TestMeasuring:
    def test_a_dry_fit_before_a_joint_is_cut(self):
        late = replace(GOOD[2], stage="fitted")
        steps = (*GOOD[:2], GOOD[3], late, *GOOD[4:])

        # the mortises are not needed: what goes into them is fitted later
        assert found(steps) == []
        dadoes = replace(GOOD[1], stage="fitted")
        assert found((GOOD[0], *GOOD[2:4], dadoes, *GOOD[4:])) == [
            ("dry_fit_early", ("dry_fit", "dadoes"))
        ]

    def test_a_dry_fit_of_some_parts_needs_only_their_joints(self):
        dadoes = replace(GOOD[1], stage="fitted", joints=("shelf_right",))
        left = replace(GOOD[1], key="left", joints=("shelf_left",))
        partial = replace(GOOD[3], parts=("left_side", "shelf"), measures=())
        steps = (GOOD[0], left, GOOD[2], partial, dadoes, *GOOD[3:])

        assert found(steps) == []

    def test_a_dry_fit_before_what_it_measures_at_is_cut(self):
        whole = case_data()
        whole["distances"].append(
            distance("gap", "rail.top", "shelf.bottom", measure="dry_fit")
        )
        steps = changed("dry_fit", measures=("opening", "gap"))

        assert found(steps, case(**whole)) == [("dry_fit_early", ("dry_fit", "rail"))]

    def test_a_fitted_part_before_its_distance_is_measured(self):
        rail = replace(GOOD[4], stage="joinery", measured_first=())
        (fault,) = order_faults(CASE, (*GOOD[:3], rail, GOOD[3], *GOOD[5:]))

        assert (fault.kind, fault.steps) == ("fitted_early", ("rail", "dry_fit"))
        assert fault.about == ("rail", "opening")
        assert fault.what == '"Rail" cuts the rail before "Dry fit" measures "Opening".'

    def test_a_distance_that_no_step_measures(self):
        (fault,) = order_faults(CASE, without("dry_fit"))

        assert (fault.kind, fault.about) == ("never_measured", ("rail", "opening"))
        assert fault.what == 'No step measures "Opening", which the rail waits for.'

    def test_what_a_step_needs_is_measured_later(self):
        log = step("log", "joinery", machine="none", measures=("stock:board",))
        steps = changed("dadoes", measured_first=("stock:board",))
        (fault,) = order_faults(CASE, (*steps[:2], log, *steps[2:]))

        assert (fault.kind, fault.steps) == ("measured_late", ("dadoes", "log"))
        assert "the thickness of the board" in fault.what

    def test_stock_may_be_logged_outside_of_the_steps(self):
        assert found(changed("dadoes", measured_first=("stock:board",))) == []


class TestAssembly:
    def test_before_the_fitted_parts_are_cut(self):
        glue = replace(GOOD[7], stage="assembly")
        (order, early, again) = order_faults(CASE, (*GOOD[:4], glue, *GOOD[4:6]))[1:]

        assert order.kind == "stage_order"
        assert [early.steps, again.steps] == [("glue", "rail"), ("glue", "tenons")]
        assert early.kind == again.kind == "assembly_early"

    def test_of_some_parts_needs_only_those(self):
        box = step("box", "assembly", "left_side right_side shelf", machine="none")
        kinds = [kind for kind, _ in found((*GOOD[:4], box, *GOOD[4:]))]

        assert set(kinds) == {"stage_order"}


class TestWords:
    def test_every_kind_says_what_why_and_what_to_do(self):
        read = demo("hall_boot_bench")
        steps = tuple(reversed(propose(read)))
        faults = order_faults(read, steps)

        assert {fault.kind for fault in faults} >= {
            "stage_order", "joint_early", "dry_fit_early", "fitted_early",
            "measured_late", "assembly_early",
        }  # fmt: skip
        for fault in faults:
            assert fault.what.endswith(".")
            assert fault.why == SAYINGS[fault.kind].why
            assert fault.remedy.endswith(".")
            assert "{" not in fault.what + fault.remedy

    @settings(derandomize=True, max_examples=100, deadline=None)
    @given(st.integers(0, 10**9), st.randoms(use_true_random=False))
    def test_any_order_is_told_in_words_with_known_steps(self, seed, source):
        read = random_plan(seed)
        steps = list(propose(read))
        source.shuffle(steps)
        steps = steps[: source.randint(0, len(steps))]
        known = {s.key for s in steps}

        for fault in order_faults(read, steps):
            assert set(fault.steps) <= known
            assert fault.what
            assert fault.remedy


class TestMoving:
    """Any one step of the bench moved ahead of what it needs is noticed."""

    @pytest.mark.parametrize(
        ("key", "ahead_of"),
        [
            ("dado_shelf_left", "rip"),
            ("dry_fit", "groove_back_left"),
            ("crosscut_fitted", "dry_fit"),
            ("tenon_rail_left", "crosscut_fitted"),
            ("glue_up", "tenon_rail_left"),
            ("log_thickness", "sand"),
        ],
    )
    def test_it_is_noticed(self, key, ahead_of):
        read = demo("hall_boot_bench")
        steps = list(propose(read))
        keys = [s.key for s in steps]
        moved = steps.pop(keys.index(key))
        steps.insert([s.key for s in steps].index(ahead_of), moved)

        assert any(key in fault.steps for fault in order_faults(read, steps))
