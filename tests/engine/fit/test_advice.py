"""What to log next, and which readings ask for a second look."""

import pytest

from projects.engine.fit.advice import (
    Target,
    expected_mm,
    measured_at,
    missing_end,
    next_to_log,
    points_of,
    second_looks,
)
from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Fact, Reading, Readings, mean_of
from projects.engine.units import read_length
from tests.engine.builds import boot_bench, inches, solved
from tests.engine.builds import plan as read


def reading(text):
    return Reading(length=read_length(text))


class TestSecondLooks:
    @pytest.mark.parametrize(
        ("inch", "looks"),
        [
            ("0.75", []),
            ("0.8625", []),  # exactly 15 % over
            ("0.6375", []),  # exactly 15 % under
            ("0.86251", ["off_plan"]),
            ("0.63749", ["off_plan"]),
        ],
    )
    def test_more_than_15_percent_off(self, inch, looks):
        found = second_looks(inches(inch), expected_mm=inches("0.75"), others=())

        assert [look.why for look in found] == looks

    @pytest.mark.parametrize(
        ("inch", "looks"),
        [
            ("0.78125", []),  # exactly 1/32 from 0.75
            ("0.78126", ["spread"]),
            ("0.72", []),
            ("0.71874", ["spread"]),
        ],
    )
    def test_points_more_than_a_thirty_second_apart(self, inch, looks):
        found = second_looks(inches(inch), expected_mm=None, others=[reading("0.75")])

        assert [look.why for look in found] == looks

    def test_the_furthest_point_counts(self):
        others = [reading("0.75"), reading("0.7"), reading("0.76")]
        (look,) = second_looks(inches("0.745"), expected_mm=None, others=others)

        assert look.expected_mm == inches("0.7")

    def test_two_ends_of_a_distance_are_told_as_ends(self):
        (look,) = second_looks(
            inches("34.5625"),
            expected_mm=inches("34.5"),
            others=[reading("34 1/2")],
            is_fact=True,
        )

        assert look.why == "ends"
        assert look.off_mm == inches("1/16")

    def test_both_at_once(self):
        found = second_looks(
            inches(1), expected_mm=inches("0.75"), others=[reading("0.75")]
        )

        assert [look.why for look in found] == ["off_plan", "spread"]

    def test_nothing_to_hold_it_against(self):
        assert second_looks(inches(1), expected_mm=None, others=()) == ()


class TestExpected:
    def test_a_board_is_held_against_the_plan(self):
        build = solved(boot_bench(), {"stock": {"board": ["0.5"]}})

        assert expected_mm(Target(kind="stock", key="board"), build) == inches("0.75")
        assert expected_mm(Target(kind="part", key="shelf"), build) == inches("0.75")

    def test_a_misreading_does_not_speak_against_the_right_value(self):
        build = solved(
            boot_bench(),
            {"distances": {"opening": "3 1/2"}, "cut": {"shelf.width": "1"}},
        )
        opening = Target(kind="distance", key="opening")
        width = Target(kind="cut", key="shelf", dimension="width")

        assert expected_mm(opening, build) == inches("34.5")
        assert expected_mm(width, build) == inches(14)


class TestNext:
    def test_a_board_is_read_at_three_points_then_the_opening(self):
        points = ["0.742", "0.744", "0.741"]
        for have in range(3):
            step = next_to_log(
                solved(
                    boot_bench(), {"stock": {"board": points[:have]}} if have else {}
                )
            )
            assert (str(step.target), step.point) == ("stock:board", have + 1)

        step = next_to_log(solved(boot_bench(), {"stock": {"board": points}}))
        assert str(step.target) == "distance:opening"
        assert step.fitted == ("Shelf",)
        assert step.before == ("Left side", "Right side")

    def test_nothing_is_left_once_the_opening_is_read(self):
        readings = {"stock": {"board": ["0.7"] * 3}, "distances": {"opening": "34 1/2"}}

        assert next_to_log(solved(boot_bench(), readings)).target is None

    def test_stock_whose_parts_all_have_their_own_readings_is_not_asked_for(self):
        own = {
            key: {"thickness": ["0.74"]} for key in ("left_side", "right_side", "shelf")
        }

        step = next_to_log(solved(boot_bench(), {"parts": own}))
        assert str(step.target) == "distance:opening"


class TestBothEnds:
    @staticmethod
    def measured(*ends, plan_data=None):
        """Give the bench with its stock read, and the opening at these ends."""
        points = tuple(
            Reading(length=read_length(text), point=point) for point, text in ends
        )
        plan = read(plan_data or boot_bench())
        mean = measured_at(plan, "opening", points)
        return solve(
            plan,
            Readings(
                stock={"board": tuple(reading("0.75") for _ in range(3))},
                facts={Fact(kind="distance", key="opening"): mean} if mean else {},
                distance_points={"opening": points},
            ),
        )

    @pytest.mark.parametrize("end", [1, 2])
    def test_the_other_end_is_asked_for_before_anything_is_cut(self, end):
        step = next_to_log(self.measured((end, "34 1/2")))

        assert (str(step.target), step.point) == ("distance:opening", 3 - end)
        assert step.cut_now == ()

    def test_one_end_is_no_measurement(self):
        build = self.measured((1, "34 1/2"))

        assert build.waiting_for == ("opening",)
        assert ("shelf", "length") in build.system.waiting
        assert missing_end("opening", build.readings) == 2

    def test_what_is_not_measured_on_the_dry_assembly_has_one_value(self):
        plan = read(boot_bench())
        one = (reading("36"),)

        assert measured_at(plan, "overall_width", one) == mean_of(one)
        assert measured_at(plan, "opening", one) is None

    def test_both_ends_free_the_fitted_parts(self):
        data = boot_bench()
        data["distances"][4]["fits"] = ["shelf"]
        step = next_to_log(self.measured((1, "34 1/2"), (2, "34 9/16"), plan_data=data))

        assert step.target is None
        assert step.cut_now == ("shelf",)

    def test_the_distance_is_their_exact_mean(self):
        build = self.measured((1, "34 1/2"), (2, "34 9/16"))
        target = Target(kind="distance", key="opening")

        assert build.distances["opening"] == inches("34.53125")
        assert [p.point for p in points_of(target, build.readings)] == [1, 2]

    def test_the_coarser_instrument_stands_for_the_mean(self):
        fine = Reading(length=read_length("34.5"), instrument="caliper")

        assert mean_of((fine, fine)).instrument == "caliper"
        assert mean_of((fine, reading("34 1/2"))).instrument == "tape"


class TestTarget:
    def test_its_text_and_its_points(self):
        readings = {"stock": {"board": ["0.7"]}, "cut": {"shelf.length": "35"}}
        build = solved(boot_bench(), readings)
        cut = Target(kind="cut", key="shelf", dimension="length")

        assert str(cut) == "cut:shelf.length"
        assert points_of(cut, build.readings)[0].length.mm == inches(35)
        assert len(points_of(Target(kind="stock", key="board"), build.readings)) == 1
        assert points_of(Target(kind="part", key="shelf"), build.readings) == ()
        assert points_of(Target(kind="distance", key="opening"), build.readings) == ()

    def test_a_diagonal_states_no_size(self):
        build = solved(boot_bench())
        diagonal = Target(kind="diagonal", key="opening")

        assert str(diagonal) == "diagonal:opening"
        assert diagonal.fact is None
        assert expected_mm(diagonal, build) is None
        assert points_of(diagonal, build.readings) == ()
