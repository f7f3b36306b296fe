"""From rows to the engine's records."""

from fractions import Fraction

import pytest

from projects import adapters
from projects.actions import set_aside
from projects.engine.fit.advice import Target
from projects.engine.plan.readings import Fact
from tests.factories import OPENING, PLYWOOD, POPLAR, SHELF_CUT, log, log_stock

IN = Fraction(254, 10)
DIAGONALS = Target(kind="diagonal", key="opening")
SIDE = Target(kind="part", key="left_side")


@pytest.fixture
def plan(build):
    return adapters.plan_of(build.revision)


def readings_of(build, plan):
    return adapters.readings_of(plan, build.readings.all())


class TestReadTarget:
    @pytest.mark.parametrize(
        "text",
        [
            "stock:poplar34",
            "part:left_side",
            "distance:opening",
            "diagonal:opening",
            "cut:shelf.length",
            "cut:shelf.width",
        ],
    )
    def test_what_the_plan_has(self, text, plan):
        target = adapters.read_target(text, plan)

        assert str(target) == text

    @pytest.mark.parametrize(
        "text",
        [
            "",
            ":",
            "stock:",
            "stock:left_side",
            "part:poplar34",
            "part:left_side.length",
            "cut:shelf",
            "cut:shelf.thickness",
            "cut:shelf.length.width",
            "distance:opening.",
            "diagonal:overall_width",
            "diagonal:shelf",
            "joint:seat_left",
            "STOCK:poplar34",
            "stock: poplar34",
        ],
    )
    def test_what_it_does_not_have(self, text, plan):
        target = adapters.read_target(text, plan)

        # a lone point after a name is no dimension
        assert target is None or str(target) == text.rstrip(".")


class TestCurrentRows:
    def test_the_newest_of_a_point_counts(self, build):
        log(build, POPLAR, "0.757", "0.744")
        log(build, POPLAR, "0.742")
        current = adapters.current_rows(build.readings.all())

        assert [(row.point, row.typed) for row in current] == [
            (2, "0.744"),
            (1, "0.742"),
        ]

    def test_points_of_different_things_are_different(self, build):
        log(build, POPLAR, "0.742")
        log(build, PLYWOOD, "0.240")
        log(build, SIDE, "0.738")

        assert len(adapters.current_rows(build.readings.all())) == 3


class TestReadingsOf:
    def test_points_stand_in_their_order(self, build, plan):
        log(build, POPLAR, "0.744", point=2)
        log(build, POPLAR, "0.742", point=1)
        points = readings_of(build, plan).stock["poplar34"]

        assert [point.length.mm / IN for point in points] == [
            Fraction("0.742"),
            Fraction("0.744"),
        ]

    def test_a_part_may_have_its_own(self, build, plan):
        log(build, SIDE, "0.738")
        readings = readings_of(build, plan)

        assert set(readings.parts) == {"left_side"}
        assert not readings.stock

    def test_the_newest_fact_is_believed_first(self, build, plan):
        log(build, SHELF_CUT, "35 1/8", instrument="tape")
        log(build, OPENING, "34 1/2", "34 1/2", instrument="tape")
        facts = list(readings_of(build, plan).facts)

        assert facts == [
            Fact(kind="distance", key="opening"),
            Fact(kind="cut", key="shelf", dimension="length"),
        ]

    def test_a_fact_read_again_is_the_newest(self, build, plan):
        log(build, SHELF_CUT, "35 1/8", instrument="tape")
        log(build, OPENING, "34 1/2", instrument="tape")
        log(build, SHELF_CUT, "35 1/4", instrument="tape")
        facts = readings_of(build, plan).facts

        assert next(iter(facts)).kind == "cut"
        assert facts[next(iter(facts))].length.mm == Fraction("35.25") * IN

    def test_a_distance_is_the_mean_of_its_ends(self, build, plan):
        log(build, OPENING, "34 17/32", "34 1/2", instrument="tape")
        readings = readings_of(build, plan)
        fact = readings.facts[Fact(kind="distance", key="opening")]

        assert fact.length.mm == Fraction("34.515625") * IN
        assert [point.point for point in readings.distance_points["opening"]] == [1, 2]

    def test_one_end_alone_is_kept_but_is_no_fact(self, build, plan):
        rows = log(build, OPENING, "34 17/32", "34 1/2", instrument="tape")
        set_aside(build, rows, by=build.student, target=OPENING, point=1)
        readings = readings_of(build, plan)

        assert Fact(kind="distance", key="opening") not in readings.facts
        assert [point.point for point in readings.distance_points["opening"]] == [2]

    def test_diagonals_disturb_nothing(self, build, plan):
        before = readings_of(build, plan)
        rows = log(build, DIAGONALS, "37 11/16", "37 5/8")

        assert readings_of(build, plan) == before
        pair = adapters.diagonals_of(rows, "opening")
        assert pair is not None
        assert [row.typed for row in pair] == ["37 11/16", "37 5/8"]

    def test_one_diagonal_is_no_pair(self, build):
        rows = log(build, DIAGONALS, "37 11/16")

        assert adapters.diagonals_of(rows, "opening") is None

    def test_the_instrument_and_the_unit_come_along(self, build, plan):
        log(build, POPLAR, "19 mm", instrument="tape")
        (point,) = readings_of(build, plan).stock["poplar34"]

        assert (point.instrument, point.length.unit) == ("tape", "mm")


class TestSolveBuild:
    def test_without_readings_it_is_the_plan(self, build):
        solution = adapters.solve_build(build, [])

        assert solution.sizes["shelf", "length"] == Fraction("35.25") * IN

    def test_a_shelf_by_hand(self, build):
        rows = log_stock(build)
        solution = adapters.solve_build(build, rows)

        # 36 - T/2 - T/2, T = (0.742 + 0.744 + 0.741) / 3
        assert solution.sizes["shelf", "length"] == (36 - Fraction("2.227") / 3) * IN

    def test_the_plan_is_read_once(self, build, django_assert_num_queries):
        with django_assert_num_queries(0):
            one = adapters.plan_of(build.revision)
            other = adapters.plan_of(build.revision)

        assert one is other
