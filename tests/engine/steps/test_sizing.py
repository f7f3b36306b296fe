"""Which sizes the demo bench's steps cut."""

import pytest

from projects.engine.plan.records import DIMENSIONS
from projects.engine.steps.proposal import propose
from projects.engine.steps.sizing import sizes_cut, step_sizes
from tests.engine.steps.plans import demo


def cut(name, *done):
    plan = demo(name)
    return sizes_cut(plan, plan.steps or propose(plan), done)


def test_ripping_cuts_widths_and_cutting_off_cuts_lengths():
    ripped, both = cut("hall_boot_bench", "rip"), cut("hall_boot_bench", "crosscut")

    assert ("seat", "width") in ripped
    assert ("seat", "length") not in ripped
    assert {dimension for _part, dimension in both} == {"length"}


def test_sheet_stock_is_cut_to_both_at_once():
    sheet = cut("hall_boot_bench", "cut_sheet_parts")

    assert {dimension for _part, dimension in sheet} == {"length", "width"}


def test_nothing_done_has_cut_nothing_and_a_joint_no_size():
    assert not cut("hall_boot_bench")
    assert not cut("hall_boot_bench", "dadoes", "plane_poplar34")


@pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
def test_all_steps_cut_every_length_and_width(name):
    plan = demo(name)
    steps = plan.steps or propose(plan)
    cut_once = [size for step in steps for size in step_sizes(plan, steps, step)]

    assert set(cut_once) == {
        (part.key, dimension)
        for part in plan.parts
        for dimension in DIMENSIONS
        if dimension != "thickness"
    }
