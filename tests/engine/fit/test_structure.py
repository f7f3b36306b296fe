"""Joints, flush faces and even distances, and plans that can't be solved."""

from fractions import Fraction
from itertools import pairwise

import pytest

from tests.engine.builds import (
    boot_bench,
    box,
    data,
    distance,
    inches,
    joint,
    part,
    refusal,
    size,
    size_in,
    solved,
)

STOCK = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3
"""The mean of the three readings above, in inches."""


class TestEven:
    def bays(self, **more):
        """Return two sides and two dividers, 36 over all, with even bays."""
        names = ("left", "one", "two", "right")
        wants = [distance("over_all", "left.left", "right.right", "36")]
        for name in names:
            wants += [
                size(name, "length", "zyx", "20"),
                size(name, "width", "zyx", "10"),
            ]
        bays = [[f"{a}.right", f"{b}.left"] for a, b in pairwise(names)]
        parts = [part(name, "zyx") for name in names]
        shown = [distance(f"bay{n}", *bay) for n, bay in enumerate(bays)]
        return data(parts, distances=wants + shown, even=[bays], **more)

    def test_bays_between_plan_boards(self):
        """(36 − 4 × 3/4) / 3."""
        build = solved(self.bays())

        assert [build.distances[f"bay{n}"] for n in range(3)] == [inches(11)] * 3

    def test_bays_between_milled_boards(self):
        """(36 − 3 × 0.742… − 0.8) / 3, all three the same."""
        readings = STOCK | {"parts": {"one": {"thickness": ["0.8"]}}}
        build = solved(self.bays(), readings)
        bay = inches((36 - 3 * MEAN - Fraction("0.8")) / 3)

        assert [build.distances[f"bay{n}"] for n in range(3)] == [bay] * 3

    def test_across_two_axes(self):
        """A square: as wide as it is long."""
        of = box(length="12")
        of["even"] = [[["box.left", "box.right"], ["box.front", "box.back"]]]

        assert size_in(solved(of), "box.width") == 12

    def test_the_same_pair_twice_says_nothing(self):
        of = box(length="12", width="3")
        of["even"] = [[["box.left", "box.right"], ["box.left", "box.right"]]]

        assert size_in(solved(of), "box.length") == 12


class TestStructure:
    def test_flush_faces_share_a_position(self):
        of = box("a", length="12", width="3")
        of["parts"].append(part("b", "xyz"))
        of["flush"] = [[f"a.{face}", f"b.{face}"] for face in ("left", "right")]
        of["distances"].append(size("b", "width", "xyz", "4"))

        assert size_in(solved(of), "b.length") == 12

    def test_a_half_lap_goes_all_across_unless_a_depth_is_given(self):
        """A rail over two stiles 2 in wide and 20 in over all, then only 1 in each."""
        of = data(
            [part("one", "zxy"), part("two", "zxy"), part("rail", "xzy")],
            joints=[joint("left", "half_lap", "rail.left", "one.right"),
                    joint("right", "half_lap", "rail.right", "two.left")],
            distances=[distance("all", "one.left", "two.right", "20"),
                       *(size(of, "width", "zxy", "2") for of in ("one", "two")),
                       *(size(of, "length", "zxy", "30") for of in ("one", "two")),
                       size("rail", "width", "xzy", "3")],
        )  # fmt: skip
        assert size_in(solved(of), "rail.length") == 20
        for lap in of["joints"]:
            lap["depth"] = "1"
        assert size_in(solved(of), "rail.length") == 18

    def test_a_share_is_of_the_hosts_extent_on_the_joints_axis(self):
        """Half of the host's 8 in, not half of its thickness."""
        of = data(
            [part("host", "xyz"), part("guest", "xyz")],
            joints=[joint("j", "groove", "guest.left", "host.right",
                          depth={"of_thickness": "1/2"})],
            distances=[size("host", "length", "xyz", "8"),
                       *(size(of, "width", "xyz", "3") for of in ("host", "guest")),
                       distance("all", "host.left", "guest.right", "10")],
        )  # fmt: skip
        build = solved(of)

        assert size_in(build, "guest.length") == 6
        assert build.cuts["j"].depth_mm == inches(4)

    def test_a_loop_that_can_not_close_is_named_with_its_amount(self):
        of = boot_bench()
        of["parts"].append(part("top", "xyz"))
        of["joints"].append(
            joint("top_left", "dado", "top.left", "left_side.right", depth="1/4")
        )
        of["flush"].append(["shelf.left", "top.left"])
        of["distances"] += [size("top", d, "xyz", "9") for d in ("length", "width")]
        said = refusal(of)

        assert "joint shelf_left" in said
        assert "joint top_left" in said
        assert "shelf.left flush with top.left" in said
        assert "fails by 1/8 in" in said
        assert "shelf_right" not in said

    def test_a_loop_that_closes_only_with_the_plans_thickness(self):
        """Two boards flush on both faces can't be of two thicknesses."""
        of = box("a", length="12", width="3")
        of["parts"].append(part("b", "xyz"))
        of["flush"] = [["a.top", "b.top"], ["a.bottom", "b.bottom"]]
        of["distances"] += [size("b", d, "xyz", "9") for d in ("length", "width")]
        said = refusal(of, {"parts": {"a": {"thickness": ["0.8"]}}})

        assert solved(of)
        assert "thickness of a" in said
        assert "thickness of b" in said
        assert "fails by 0.05 in" in said


class TestFree:
    def test_a_size_nothing_fixes_names_part_axis_and_face(self):
        of = boot_bench()
        del of["joints"][1]
        said = refusal(of)

        assert said.startswith("part shelf: nothing fixes its length on x")
        assert "shelf.right" in said
        assert "shelf.left" not in said

    def test_a_part_that_hangs_on_nothing_names_both_faces(self):
        of = boot_bench()
        of["parts"].append(part("loose", "yxz"))
        said = refusal(of)

        assert "part loose: nothing fixes its length on y" in said
        assert "part loose: nothing fixes its width on x" in said
        assert len(said.split("\n")) == 2

    def test_a_place_nobody_needs_may_stay_free(self):
        """The shelf's height is wanted by nobody: no size depends on it."""
        of = boot_bench()
        of["distances"] = [d for d in of["distances"] if d["key"] != "shelf_height"]

        assert size_in(solved(of), "shelf.length") == Fraction("35.25")

    def test_a_shown_distance_that_nothing_fixes_is_named(self):
        of = boot_bench()
        del of["distances"][1]["value"], of["distances"][1]["held"]

        assert "distance shelf_height: nothing fixes how far" in refusal(of)

    def test_one_to_be_measured_may_wait(self):
        of = boot_bench()
        del of["distances"][1]["value"], of["distances"][1]["held"]
        of["distances"][1]["measure"] = "dry_fit"

        assert solved(of).distances["shelf_height"] is None


class TestImpossible:
    @pytest.mark.parametrize(("width", "out"), [("3/4", "0 in"), ("1/2", "-0.25 in")])
    def test_a_size_of_0_or_less_is_named(self, width, out):
        of = boot_bench()
        of["distances"][0]["value"] = width

        assert refusal(of) == (
            f"part shelf: its length comes out at {out}, but must be above 0"
        )

    def test_a_joint_deeper_than_its_host_is_named(self):
        of = boot_bench()
        of["joints"][0]["depth"] = "0.76"
        said = refusal(of)

        assert said.startswith("joint shelf_left: ")
        assert "left_side" in said

    def test_all_the_way_through_is_not_too_deep(self):
        of = boot_bench()
        of["joints"][0]["depth"] = "3/4"

        assert size_in(solved(of), "shelf.length") == Fraction("35.625")

    def test_a_thin_board_makes_it_too_deep(self):
        of = boot_bench()
        of["joints"][0]["depth"] = "3/4"

        assert "joint shelf_left: " in refusal(of, STOCK)

    def test_every_fault_is_told(self):
        of = boot_bench()
        of["joints"][0]["depth"] = of["joints"][1]["depth"] = "1"
        said = refusal(of)

        assert "joint shelf_left" in said
        assert "joint shelf_right" in said
