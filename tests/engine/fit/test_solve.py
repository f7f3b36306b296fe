"""Builds worked out by hand: sizes, what gives, and in which unit it is said."""

from fractions import Fraction

import pytest

from tests.engine.builds import (
    IN,
    boot_bench,
    box,
    data,
    distance,
    inches,
    joint,
    part,
    size,
    size_in,
    solved,
)

STOCK = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3
"""The mean of the three readings above, in inches."""


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
