"""The demo's plans: they solve, fit together, and use every kind of joint."""

from fractions import Fraction
from itertools import combinations

import pytest

from projects import demo
from projects.engine.fit.solve import check_plan, solve
from projects.engine.joints import KINDS
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import Reading, Readings
from projects.engine.plan.records import AXES
from projects.engine.units import read_length

NAMES = (demo.CLASS_PLAN, *demo.OTHER_PLANS)
CUT_INTO = set(KINDS) - {"butt", "dowel"}


def plan_named(name):
    return read_plan((demo.PLANS / f"{name}.json").read_bytes())


def solved_at(plan, share):
    """Solve with every stock at `share` of its planned thickness."""
    stock = {
        one.key: (Reading(length=read_length(f"{float(one.thickness.mm) * share} mm")),)
        for one in plan.stock
    }
    return solve(plan, Readings(stock=stock))


def boxes(solution):
    """Map each part to its low and high end [mm] on the three axes."""
    at = {
        face: form.value(solution.values)
        for face, form in solution.system.positions.items()
    }
    return {
        part.key: [tuple(at[face] for face in part.faces_on(axis)) for axis in AXES]
        for part in solution.plan.parts
    }


def overlaps(one, other):
    """Return how far two boxes reach into each other on each axis [mm]."""
    return [
        min(high, other_high) - max(low, other_low)
        for (low, high), (other_low, other_high) in zip(one, other, strict=True)
    ]


@pytest.mark.parametrize("name", NAMES)
class TestEachPlan:
    def test_every_wanted_distance_comes_out_as_wanted(self, name):
        solution = check_plan(plan_named(name))
        off = {key: solution.gives_mm(key) for key in solution.distances}

        assert not any(off.values()), off
        assert not solution.in_doubt

    @pytest.mark.parametrize("share", [0.93, 1.0, 1.07])
    def test_parts_share_room_only_where_one_is_cut_into_the_other(self, name, share):
        solution = solved_at(plan_named(name), share)
        box_of = boxes(solution)
        cut_into = {
            frozenset((joint.guest.part, joint.host.part))
            for joint in solution.plan.joints
            if joint.kind in CUT_INTO
        }
        share_room = {
            frozenset(pair)
            for pair in combinations(box_of, 2)
            if min(overlaps(*(box_of[key] for key in pair))) > 0
        }

        assert share_room == cut_into

    def test_the_two_parts_of_every_joint_meet(self, name):
        solution = check_plan(plan_named(name))
        box_of = boxes(solution)
        apart = [
            joint.key
            for joint in solution.plan.joints
            if min(overlaps(box_of[joint.guest.part], box_of[joint.host.part])) < 0
        ]

        assert not apart

    def test_the_two_parts_of_a_pair_are_equally_large(self, name):
        solution = check_plan(plan_named(name))
        unequal = [
            part.key
            for part in solution.plan.parts
            for dimension in part.axes
            if part.pair
            and solution.sizes[part.key, dimension]
            != solution.sizes[part.pair, dimension]
        ]

        assert not unequal


def test_every_kind_of_joint_occurs():
    used = {joint.kind for name in NAMES for joint in plan_named(name).joints}

    assert used == set(KINDS)


def test_the_bench_alone_has_the_four_main_kinds():
    used = {joint.kind for joint in plan_named("hall_boot_bench").joints}

    assert {"dado", "rabbet", "groove", "tenon"} <= used


@pytest.mark.parametrize("thickness", ["0.70", "0.80"])
def test_the_bench_keeps_its_outside_in_thin_and_thick_stock(thickness):
    plan = plan_named("hall_boot_bench")
    reading = Reading(length=read_length(thickness))
    solution = solve(plan, Readings(stock={"poplar34": (reading,)}))
    off = {key: solution.gives_mm(key) for key in solution.distances}

    assert not any(off.values()), off
    # 36 - T/2 - T/2
    assert solution.sizes["shelf", "length"] == (
        (36 - Fraction(thickness)) * Fraction("25.4")
    )


def test_rail_and_toe_board_wait_for_the_dry_fit_and_nothing_else():
    solution = check_plan(plan_named("hall_boot_bench"))

    assert solution.waiting_for == ("opening",)
    assert set(solution.system.waiting) == {
        ("back_rail", "length"),
        ("toe_board", "length"),
    }
