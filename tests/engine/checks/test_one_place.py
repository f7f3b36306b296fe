"""Parts that run through each other, by hand."""

import pytest

from projects.engine.checks import check
from projects.engine.fit.solve import check_plan
from tests.engine.builds import distance, joint, part, size
from tests.engine.checks.pieces import amounts, found, made
from tests.engine.steps.plans import demo

TENON = {"thickness": "1/4", "edge_shoulder": "1/2"}


def corner(*, long, **tenon):
    """Return a leg 3/4 in square with a rail from its right and one from its front.

    Both stand 1/2 in below its top, 3 in wide and 3/4 thick, in the middle of the leg.
    """
    cut = {"depth": long, "tenon": tenon}
    return made(
        [part("leg", "zyx"), part("rail", "xzy"), part("apron", "yzx")],
        joints=[
            joint("rail_in", "tenon", "rail.left", "leg.right", **cut),
            joint("apron_in", "tenon", "apron.back", "leg.front", **cut),
        ],
        distances=[
            size("leg", "length", "zyx", "17"),
            size("leg", "width", "zyx", "3/4"),
            size("rail", "length", "xzy", "12"),
            size("rail", "width", "xzy", "3"),
            size("apron", "length", "yzx", "12"),
            size("apron", "width", "yzx", "3"),
            distance("rail_down", "rail.top", "leg.top", "1/2"),
            distance("apron_down", "apron.top", "leg.top", "1/2"),
        ],
        flush=[["leg.front", "rail.front"], ["leg.left", "apron.left"]],
    )


class TestTenons:
    def test_long_ones_cross_inside_the_leg(self):
        """The leg is 3/4 in square, each tenon 1/4 thick in its middle third.

        Each is 9/16 long from its face, so each reaches 5/16 past the other's near
        cheek, and they share the whole 1/4 both ways and 2 in of height.
        """
        (one,) = found(corner(long="9/16", **TENON), "one_place")

        assert str(one.what) == "Rail and Apron run 1/4 in through each other"
        assert one.key == "one_place/part:apron+part:rail"
        assert amounts(one)["through each other"] * 4 == 1

    def test_short_ones_miss_each_other(self):
        """At 1/4 each ends where the other's cheek begins."""
        assert not found(corner(long="1/4", **TENON), "one_place")

    def test_what_nobody_sees_is_no_fault(self):
        """1/64 in past the cheek."""
        assert not found(corner(long="17/64", **TENON), "one_place")


class TestSpacing:
    def slats(self, gap):
        """Return two slats 2 in wide, `gap` from left to left."""
        return made(
            [part("one", "zxy"), part("two", "zxy")],
            distances=[
                size("one", "length", "zxy", "10"),
                size("one", "width", "zxy", "2"),
                size("two", "length", "zxy", "10"),
                size("two", "width", "zxy", "2"),
                distance("apart", "one.left", "two.left", gap),
            ],
            flush=[["one.top", "two.top"], ["one.front", "two.front"]],
        )

    def test_too_near_they_run_through_each_other(self):
        (one,) = found(self.slats("1 1/2"), "one_place")

        assert amounts(one)["through each other"] * 2 == 1

    @pytest.mark.parametrize("gap", ["2", "3"])
    def test_side_by_side_they_don_t(self, gap):
        assert not found(self.slats(gap), "one_place")


def test_parts_that_nothing_ties_together_are_not_spoken_of():
    loose = made(
        [part("one", "zxy"), part("two", "zxy")],
        distances=[
            size("one", "length", "zxy", "10"), size("one", "width", "zxy", "2"),
            size("two", "length", "zxy", "10"), size("two", "width", "zxy", "2"),
        ],
    )  # fmt: skip

    assert not found(loose, "one_place")


@pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
def test_the_demo_s_pieces_can_be_put_together(name):
    solution = check_plan(demo(name))

    assert "one_place" not in {finding.check for finding in check(solution)}
