"""What is measured on the dry assembly, and what is cut to it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from projects.engine.fit.advice import measured_at
from projects.engine.fit.dry_fit import dry_measures, ends_differ
from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Fact, Reading, Readings
from projects.engine.units import read_length
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


def read_at(*ends, up="12"):
    """Give what is cut to the opening read at these ends, the rail so far up."""
    points = tuple(
        Reading(length=read_length(text), point=point)
        for point, text in enumerate(ends, start=1)
    )
    data = bench(fits=["rail"]).plan
    heights = {d.key: d for d in data.distances}
    value = read_length(up)
    raised = replace(heights["rail_up"], value=value)
    plan = replace(
        data,
        distances=tuple(raised if d.key == "rail_up" else d for d in data.distances),
    )
    mean = measured_at(plan, "opening", points)
    facts = {Fact(kind="distance", key="opening"): mean} if mean else {}
    readings = Readings(facts=facts, distance_points={"opening": points})
    [opening] = dry_measures(solve(plan, readings))
    return opening


class TestNearEnd:
    """The side is 18 high, the rail 4: its middle is 2 above its lower edge."""

    @pytest.mark.parametrize(
        ("up", "end"), [("1", 1), ("4", 1), ("4 1/16", None), ("9", None), ("10", 2)]
    )
    def test_the_end_in_whose_third_the_middle_lies(self, up, end):
        [rail] = read_at("34 1/2", "34 9/16", up=up).fitted

        assert rail.near_end == end

    def test_the_size_by_that_end_alone(self):
        """34 1/2 below and 34 9/16 above: a rail above would be 35 9/16."""
        [rail] = read_at("34 1/2", "34 9/16").fitted

        assert rail.mm == inches("35.53125")
        assert rail.near_mm == inches("35.5625")

    def test_one_end_says_nothing_yet(self):
        opening = read_at("34 1/2")
        [rail] = opening.fitted

        assert not opening.is_measured
        assert opening.missing_end == 2
        assert rail.near_mm is None

    def test_between_the_ends_neither_does(self):
        [rail] = read_at("34 1/2", "34 9/16", up="7").fitted

        assert rail.near_mm is None


class TestDryMeasures:
    def test_it_is_measured_along_the_side_at_both_its_ends(self):
        [opening] = dry_measures(bench())

        assert opening.distance.key == "opening"
        assert opening.along.key == "left_side"
        assert opening.ends == ("bottom", "top")
        assert not opening.is_measured
        assert opening.apart_mm == 0

    def test_the_depths_of_the_joints_come_to_it(self):
        """34 17/32 and two tenons of 1/2: 35 17/32."""
        read = {"distances": {"opening": "34 17/32"}}
        [opening] = dry_measures(bench(read, fits=["rail"]))
        [rail] = opening.fitted

        assert opening.is_measured  # one value stands for both ends
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


def test_ends_may_differ_by_a_thirty_second():
    assert not ends_differ(inches("1/32"), Fraction(0))
    assert ends_differ(inches("3/64"), Fraction(0))
