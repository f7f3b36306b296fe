"""Which frame the diagonals of a dry assembly cross, and what they tell."""

import math
from fractions import Fraction

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.dry_fit import dry_measures
from projects.engine.fit.squareness import skew
from tests.engine.builds import boot_bench, distance, inches, joint, part, size, solved


def frame(data):
    """Give the frame around the opening of a plan."""
    [opening] = dry_measures(solved(data))
    return opening.frame


def fitted(data, *keys):
    data["distances"][4]["fits"] = list(keys)
    return data


def shelved(up):
    """Give the bench with a rail to fit and a second shelf this far up."""
    data = boot_bench()
    data["parts"] += [part("rail", "xzy"), part("upper", "xyz")]
    data["joints"] += [
        joint("rail_left", "tenon", "rail.left", "left_side.right", depth="1/2"),
        joint("rail_right", "tenon", "rail.right", "right_side.left", depth="1/2"),
        joint("upper_left", "dado", "upper.left", "left_side.right", depth="3/8"),
        joint("upper_right", "dado", "upper.right", "right_side.left", depth="3/8"),
    ]
    data["distances"] += [
        distance("rail_width", "rail.bottom", "rail.top", 4),
        distance("rail_up", "left_side.bottom", "rail.bottom", 13),
        distance("upper_up", "left_side.bottom", "upper.bottom", up),
    ]
    data["flush"] += [
        ["left_side.back", "rail.back"],
        ["left_side.front", "upper.front"],
        ["left_side.back", "upper.back"],
    ]
    return fitted(data, "rail")


class TestFrame:
    def test_two_shelves_close_it(self):
        """Shelves at 6 and 15, of 3/4: 8 1/4 between them, and 34 1/2 across."""
        found = frame(shelved("15"))

        assert [side.key for side in found.sides] == ["left_side", "right_side"]
        assert found.closed_by is not None
        assert [each.key for each in found.closed_by] == ["shelf", "upper"]
        assert found.diagonal_mm == pytest.approx(math.hypot(34.5, 8.25) * 25.4)

    def test_the_lower_one_is_named_first(self):
        found = frame(shelved("1"))

        assert found.closed_by is not None
        assert [each.key for each in found.closed_by] == ["upper", "shelf"]

    def test_what_is_not_cut_yet_closes_nothing(self):
        found = frame(shelved("15"))

        assert found.closed_by is not None
        assert "rail" not in {each.key for each in found.closed_by}

    def test_one_shelf_leaves_the_ends_of_the_sides(self):
        """The sides are 18 high: the root of 34.5^2 + 18^2."""
        found = frame(fitted(boot_bench(), "shelf"))

        assert found.closed_by is None
        assert found.diagonal_mm == pytest.approx(math.hypot(34.5, 18) * 25.4)

    def test_sides_whose_ends_are_not_level_say_nothing(self):
        data = fitted(boot_bench(), "shelf")
        del data["flush"][3]
        data["distances"].append(size("right_side", "length", "zyx", 17))
        found = frame(data)

        assert found.diagonal_mm is None
        assert not found.is_far_off(inches(1))

    def test_more_than_half_an_inch_off_is_another_frame(self):
        found = frame(fitted(boot_bench(), "shelf"))
        square = Fraction(found.diagonal_mm)

        assert not found.is_far_off(square + inches("0.49"), square - inches("0.49"))
        assert found.is_far_off(square, square + inches("0.51"))
        assert found.is_far_off(square - inches("0.51"), square)


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
