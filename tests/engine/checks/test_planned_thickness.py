"""Loops that close only while stock is as thick as planned, by hand."""

import pytest

from projects.engine.checks import check
from projects.engine.fit.solve import check_plan
from tests.engine.builds import part, size
from tests.engine.checks.pieces import flush, found, made
from tests.engine.steps.plans import demo


def side_by_side(other_stock):
    """Return a shelf and a cleat of the same planned 1/2 in, level above and below."""
    cleat = part("cleat", "xyz") | {"stock": other_stock}
    return made(
        [part("shelf", "xyz") | {"stock": "ply"}, cleat],
        distances=[
            size(key, dimension, "xyz", value)
            for key in ("shelf", "cleat")
            for dimension, value in (("length", "20"), ("width", "6"))
        ],
        flush=flush("shelf", "cleat", "z"),
        more_stock=[{"key": "oak", "name": "Oak", "kind": "solid", "thickness": "1/2"}],
    )


def test_two_stocks_level_on_both_sides_are_told():
    (one,) = found(side_by_side("oak"), "planned_thickness")

    assert str(one.what) == (
        "Shelf, Cleat: this goes together at just the planned thickness alone"
    )
    assert "cleat.top flush with shelf.top" in str(one.why) or (
        "shelf.top flush with cleat.top" in str(one.why)
    )


def test_two_parts_of_one_stock_come_out_alike():
    assert not found(side_by_side("ply"), "planned_thickness")


@pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
def test_the_demo_s_pieces_take_any_thickness(name):
    findings = check(check_plan(demo(name)))

    assert "planned_thickness" not in {finding.check for finding in findings}
