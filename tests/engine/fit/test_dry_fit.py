"""What is measured on the dry assembly, what is cut to it, and squareness."""

from fractions import Fraction

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.dry_fit import dry_measures, ends_differ, skew
from tests.engine.builds import boot_bench, inches, joint, part, solved


def bench(readings=None, **more):
    data = boot_bench()
    data["parts"].append(part("rail", "xzy"))
    data["joints"] += [
        joint("rail_left", "tenon", "rail.left", "left_side.right", depth="1/2"),
        joint("rail_right", "tenon", "rail.right", "right_side.left", depth="1/2"),
    ]
    data["distances"] += [
        {"key": "rail_width", "name": "Rail", "from": "rail.bottom", "to": "rail.top",
         "value": "4"},
        {"key": "rail_up", "name": "Up", "from": "left_side.bottom",
         "to": "rail.bottom", "value": "12"},
    ]  # fmt: skip
    data["flush"].append(["left_side.back", "rail.back"])
    data["distances"][4] |= more
    return solved(data, readings)


class TestDryMeasures:
    def test_it_is_measured_along_the_side_at_both_its_ends(self):
        [opening] = dry_measures(bench())

        assert opening.distance.key == "opening"
        assert opening.along.key == "left_side"
        assert opening.ends == ("bottom", "top")
        assert not opening.is_measured
        assert not opening.is_complete
        assert opening.apart_mm == 0

    def test_the_depths_of_the_joints_come_to_it(self):
        """34 17/32 and two tenons of 1/2: 35 17/32."""
        read = {"distances": {"opening": "34 17/32"}}
        [opening] = dry_measures(bench(read, fits=["rail"]))
        [rail] = opening.fitted

        assert opening.is_complete  # one value stands for both ends
        assert (rail.part.key, rail.dimension) == ("rail", "length")
        assert rail.added_mm == inches(1)
        assert rail.mm == inches(Fraction(34) + Fraction(17, 32) + 1)

    def test_a_part_cut_since_still_shows_what_it_was_cut_to(self):
        read = {"distances": {"opening": "34 1/2"}, "cut": {"rail.length": "35 7/16"}}
        [opening] = dry_measures(bench(read, fits=["rail"]))
        [rail] = opening.fitted

        assert rail.mm == inches("35.5")

    def test_before_it_is_measured_the_expected_stands_for_it(self):
        """36 less two sides of 3/4: 34 1/2, so the rail would be 35 1/2."""
        [opening] = dry_measures(bench(fits=["rail"]))
        [rail] = opening.fitted

        assert rail.mm == inches("71/2")
        assert rail.added_mm == inches(1)

    def test_without_fits_every_part_cut_to_it_is_told(self):
        [opening] = dry_measures(bench())
        sizes = {(f.part.key, f.dimension) for f in opening.fitted}

        assert ("rail", "length") in sizes
        assert ("shelf", "length") in sizes


def skew_of(first, second, width):
    return skew(
        first_mm=Fraction(first), second_mm=Fraction(second), width_mm=Fraction(width)
    )


class TestSkew:
    def test_a_square_frame_has_equal_diagonals(self):
        found = skew(
            first_mm=Fraction(50), second_mm=Fraction(50), width_mm=Fraction(30)
        )

        assert found.longer == "neither"
        assert found.lean_mm == 0
        assert found.pull_mm == pytest.approx(0)

    def test_a_leaning_frame_by_hand(self):
        """Width 14, leaning by 6: 25^2 - 17^2 = 336 = 4 * 14 * 6.

        Square, both would be the root of (25^2 + 17^2) / 2 = 457.
        """
        found = skew(
            first_mm=Fraction(25), second_mm=Fraction(17), width_mm=Fraction(14)
        )

        assert found.longer == "first"
        assert found.lean_mm == 6
        assert found.square_mm == pytest.approx(457**0.5)
        assert found.pull_mm == pytest.approx(25 - 457**0.5)

    def test_the_longer_one_is_named(self):
        found = skew(
            first_mm=Fraction(17), second_mm=Fraction(25), width_mm=Fraction(14)
        )

        assert found.longer == "second"
        assert found.lean_mm == 6

    @pytest.mark.parametrize(
        ("first", "second", "width"), [(0, 5, 3), (5, -1, 3), (5, 5, 0), (5, 5, 6)]
    )
    def test_what_makes_no_frame_is_refused(self, first, second, width):
        with pytest.raises(EngineError):
            skew_of(first, second, width)


def test_ends_may_differ_by_a_thirty_second():
    assert not ends_differ(inches("1/32"), Fraction(0))
    assert ends_differ(inches("3/64"), Fraction(0))
