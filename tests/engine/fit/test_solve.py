"""Builds worked out by hand: sizes, what gives, what is in doubt, and why."""

from fractions import Fraction
from itertools import pairwise

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.solve import check_plan, solve
from projects.engine.plan.readings import Fact, Reading, Readings
from projects.engine.units import read_length
from tests.engine.builds import (
    IN,
    boot_bench,
    data,
    distance,
    inches,
    joint,
    part,
    plan,
    size,
    size_in,
    solved,
)

STOCK = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3
"""The mean of the three readings above, in inches."""


def refusal(of, readings=None):
    with pytest.raises(EngineError) as refused:
        solved(of, readings)
    return str(refused.value)


def box(key="box", **lengths):
    """Return the data of one loose box with wanted sizes."""
    wants = [size(key, dimension, "xyz", value) for dimension, value in lengths.items()]
    return data([part(key, "xyz")], distances=wants)


class TestTheBootBench:
    def test_at_its_plan_sizes(self):
        """36 − 3/4 − 3/4 + 3/8 + half of 3/4."""
        build = solved(boot_bench())

        assert size_in(build, "shelf.length") == Fraction("35.25")
        assert size_in(build, "shelf.width") == 14
        assert size_in(build, "shelf.thickness") == Fraction("0.75")
        assert size_in(build, "right_side.length") == 18
        assert build.distances["opening"] == inches("34.5")
        assert build.distances["shelf_height"] == inches(6)
        assert build.in_doubt == ()

    def test_from_what_was_milled(self):
        """36 − m − m + 3/8 + m/2, where m is the mean of the readings."""
        build = solved(boot_bench(), STOCK)

        assert size_in(build, "shelf.length") == Fraction("36.375") - MEAN * 3 / 2
        assert size_in(build, "left_side.thickness") == MEAN
        assert build.gives_mm("overall_width") == 0

    def test_a_part_with_readings_of_its_own_leaves_its_stocks(self):
        build = solved(
            boot_bench(), STOCK | {"parts": {"shelf": {"thickness": ["0.7"]}}}
        )

        assert size_in(build, "shelf.thickness") == Fraction("0.7")
        assert size_in(build, "left_side.thickness") == MEAN

    def test_a_measured_opening_is_believed_and_the_width_gives(self):
        """34 17/32 + 3/8 + m/2; the width is 34 17/32 + 2 m."""
        build = solved(boot_bench(), STOCK | {"distances": {"opening": "34 17/32"}})
        opening = Fraction("34.53125")

        assert size_in(build, "shelf.length") == opening + Fraction("0.375") + MEAN / 2
        assert build.distances["overall_width"] == inches(opening + 2 * MEAN)
        assert build.gives_mm("overall_width") == inches(opening + 2 * MEAN - 36)

    def test_slots_are_as_wide_as_the_thickest_reading(self):
        build = solved(boot_bench(), STOCK)

        assert build.cuts["shelf_left"].width_mm == inches("0.749")
        assert build.cuts["shelf_left"].depth_mm == inches("0.375")
        assert build.cuts["shelf_right"].width_mm == inches("0.744")
        assert build.cuts["shelf_right"].depth_mm == inches(MEAN / 2)


class TestGives:
    """Two boxes end to end: 10 and 5 are wanted, and 16 in all."""

    def two_boxes(self, *order, **held):
        wants = {
            "one": distance("one", "a.left", "a.right", "10"),
            "two": distance("two", "b.left", "b.right", "5"),
            "all": distance("all", "a.left", "b.right", "16"),
        }
        for key, rank in held.items():
            wants[key]["held"] = rank
        wide = [size(key, "width", "xyz", "3") for key in "ab"]
        return data(
            [part("a", "xyz"), part("b", "xyz")],
            joints=[joint("end", "butt", "b.left", "a.right")],
            distances=[wants[key] for key in order or wants] + wide,
        )

    @pytest.mark.parametrize(
        ("held", "gives", "by"),
        [
            ({}, "all", -1),
            ({"all": 1}, "two", 1),
            ({"all": 1, "two": 2}, "one", 1),
            ({"all": 1, "one": 2, "two": 3}, "two", 1),
            ({"one": 3, "two": 2, "all": 1}, "one", 1),
            ({"one": 2, "two": 10, "all": 9}, "two", 1),
            ({"two": 1, "all": 1}, "one", 1),
            ({"one": 7}, "all", -1),
        ],
    )
    def test_the_last_by_rank_and_then_by_place_in_the_file(self, held, gives, by):
        build = solved(self.two_boxes(**held))
        found = {key: build.gives_mm(key) for key in ("one", "two", "all")}

        assert found == {**dict.fromkeys(found, 0), gives: inches(by)}

    def test_file_order_decides_within_a_rank(self):
        build = solved(self.two_boxes("all", "two", "one"))

        assert build.gives_mm("one") == inches(1)

    def test_a_second_want_of_the_same_size_gives(self):
        of = box(length="10", width="3")
        of["distances"].append(distance("again", "box.left", "box.right", "11"))

        assert solved(of).gives_mm("again") == inches(-1)

    def test_backwards_it_comes_out_below_0(self):
        of = box(length="10", width="3")
        of["distances"].append(distance("back", "box.right", "box.left", "11"))

        assert solved(of).distances["back"] == inches(-10)
        assert solved(of).gives_mm("back") == inches(-21)


class TestInDoubt:
    def measured(self, cut, *, tape=16):
        """Return what is in doubt where the length is measured as 10 and cut so."""
        of = box(length="12", width="3")
        of["tape"] = tape
        facts = {"distances": {"box_length": "10"}, "cut": {"box.length": cut}}
        return solved(of, facts)

    def test_a_cut_size_that_contradicts_a_measured_distance(self):
        build = self.measured("10.5")
        (doubt,) = build.in_doubt

        assert str(doubt.fact) == "box.length"
        assert doubt.comes_out_mm == inches(10)
        assert doubt.off_mm == inches("0.5")
        assert doubt.disagrees_with == ("Box length, measured",)
        assert not doubt.agrees

    def test_the_cut_size_is_shown_all_the_same(self):
        build = self.measured("10.5")

        assert size_in(build, "box.length") == Fraction("10.5")
        assert [t.name for t in build.terms(build.form(("box", "length")))] == [
            "Box length, as cut"
        ]

    @pytest.mark.parametrize(
        ("cut", "tape", "agrees"),
        [
            ("10.0625", 16, True),  # exactly one mark
            ("9.9375", 16, True),
            ("10.06251", 16, False),
            ("9.93749", 16, False),
            ("10.0625", 32, False),
            ("10 1/64", 64, True),
            ("10.125", 8, True),
        ],
    )
    def test_one_mark_of_the_tape_agrees(self, cut, tape, agrees):
        (doubt,) = self.measured(cut, tape=tape).in_doubt

        assert doubt.agrees is agrees

    def test_what_is_the_same_is_not_in_doubt(self):
        assert self.measured("10").in_doubt == ()

    def test_the_first_distance_of_the_file_is_believed(self):
        of = box(length="12", width="3")
        of["distances"].append(distance("again", "box.left", "box.right"))
        first = solved(of, {"distances": {"again": "11", "box_length": "10"}})
        second = solved(of, {"distances": {"box_length": "10", "again": "11"}})

        assert size_in(first, "box.length") == 11
        assert [str(d.fact) for d in first.in_doubt] == ["box_length"]
        assert size_in(second, "box.length") == 10
        assert [str(d.fact) for d in second.in_doubt] == ["again"]

    def test_the_order_given_is_the_order_believed(self):
        """The web app gives the newest reading first, a cut size before a distance."""
        cut = Fact(kind="cut", key="box", dimension="length")
        apart = Fact(kind="distance", key="box_length")
        facts = {
            cut: Reading(length=read_length("11")),
            apart: Reading(length=read_length("10")),
        }
        build = solve(plan(box(length="12", width="3")), Readings(facts=facts))

        assert [str(d.fact) for d in build.in_doubt] == ["box_length"]
        assert build.distances["box_length"] == inches(11)

    def test_a_reading_against_the_structure_alone(self):
        """A butt joint says the two faces touch; a gap of 1/2 is read."""
        of = box("a", length="10", width="3")
        of["parts"].append(part("b", "xyz"))
        of["joints"] = [joint("end", "butt", "b.left", "a.right")]
        of["distances"] += [size("b", d, "xyz", "5") for d in ("length", "width")]
        of["distances"].append(distance("gap", "a.right", "b.left"))
        (doubt,) = solved(of, {"distances": {"gap": "1/2"}}).in_doubt

        assert doubt.comes_out_mm == 0
        assert doubt.disagrees_with == ()

    def test_names_the_readings_of_the_boards_too(self):
        facts = STOCK | {
            "distances": {"opening": "34 1/2"},
            "cut": {"shelf.length": "36"},
        }
        (doubt,) = solved(boot_bench(), facts).in_doubt

        assert set(doubt.disagrees_with) == {
            "Opening, measured", "Right side thickness",
        }  # fmt: skip


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


class TestDryFit:
    def railed(self):
        """Return the bench with a rail between the sides as well."""
        of = boot_bench()
        of["parts"].append(part("rail", "xzy"))
        of["joints"] += [
            joint("rail_left", "butt", "rail.left", "left_side.right"),
            joint("rail_right", "butt", "rail.right", "right_side.left"),
        ]
        of["distances"].append(size("rail", "width", "xzy", "3"))
        return of

    def test_sizes_that_depend_on_it_wait(self):
        build = solved(boot_bench(), STOCK)

        assert build.waiting_for == ("opening",)
        assert build.system.waiting == {("shelf", "length"): ("opening",)}

    def test_nothing_waits_once_it_is_measured(self):
        build = solved(boot_bench(), {"distances": {"opening": "34 1/2"}})

        assert build.waiting_for == ()
        assert build.system.waiting == {}

    def test_only_the_parts_it_fits_wait(self):
        of = self.railed()
        of["distances"][4]["fits"] = ["rail"]
        build = solved(of)

        assert build.system.waiting == {("rail", "length"): ("opening",)}

    def test_a_part_cut_early_does_not_wait_but_the_others_do(self):
        build = solved(self.railed(), {"cut": {"shelf.length": "35 1/4"}})

        assert build.system.waiting == {("rail", "length"): ("opening",)}

    def test_fits_must_name_parts_that_depend_on_it(self):
        of = boot_bench()
        of["distances"][4]["fits"] = ["left_side"]

        with pytest.raises(EngineError, match="distance opening: fits names left_side"):
            check_plan(plan(of))


class TestPositions:
    def test_differences_are_the_sizes(self):
        build = solved(boot_bench(), STOCK | {"distances": {"opening": "34 17/32"}})
        at = {f: form.value(build.values) for f, form in build.system.positions.items()}

        assert len(at) == 18
        for of in build.plan.parts:
            for dimension, axis in of.axes.items():
                low, high = of.faces_on(axis)
                assert at[high] - at[low] == build.sizes[of.key, dimension]
        assert at[build.plan.joints[0].guest] == inches(MEAN - Fraction("0.375"))


class TestUnits:
    def test_values_are_said_in_the_unit_they_were_given_in(self):
        of = boot_bench()
        of["joints"][0]["depth"] = "10 mm"
        build = solved(of, {"stock": {"board": ["19 mm", "18.5 mm"]}})
        terms = build.terms(build.form(("shelf", "length")))

        assert {t.value_text for t in terms} == {"36 in", "10 mm", "18.75 mm"}
        assert size_in(build, "shelf.length") == 36 + (10 - Fraction("28.125")) / IN
