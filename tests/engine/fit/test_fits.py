"""How sure fits and distances are: worked by hand, and held to laws."""

import math
from fractions import Fraction

import pytest

from projects.engine.fit.fits import best_repeat, distance_fits, joint_fits
from projects.engine.fit.solve import solve
from projects.engine.fit.uncertainty import Share
from projects.engine.plan.readings import Reading, Readings
from projects.engine.units import read_length
from tests.engine.builds import data, distance, inches, joint, part, size
from tests.engine.builds import plan as read

LEFT = ("shelf.left", "left.right")
PARTS = [part("left", "zyx"), part("right", "zyx"), part("shelf", "xyz")]


def case(*points, clearance="0.005"):
    plan = data(
        PARTS,
        joints=[
            joint(
                "in_left",
                "dado",
                "shelf.left",
                "left.right",
                depth="3/8",
                clearance=clearance,
            ),
            joint("in_right", "dado", "shelf.right", "right.left", depth="3/8"),
        ],
        distances=[
            distance("overall", "left.left", "right.right", 36, held=1),
            distance("inside", "left.right", "right.left"),
            size("left", "length", "zyx", 18),
            size("left", "width", "zyx", 12),
            distance("up", "left.bottom", "shelf.bottom", 6),
        ],
        flush=[
            ["left.bottom", "right.bottom"],
            ["left.top", "right.top"],
            ["left.front", "right.front", "shelf.front"],
            ["left.back", "right.back", "shelf.back"],
        ],
    )
    stock = {"board": points} if points else {}
    return solve(read(plan), Readings(stock=stock))


def read_with(instrument, text):
    return Reading(length=read_length(text, unit="in"), instrument=instrument)


def caliper(*texts):
    return [read_with("caliper", text) for text in texts]


def tape(*texts):
    return [read_with("tape", text) for text in texts]


class TestJoints:
    def test_a_caliper_makes_the_fit_certain(self):
        """0.740 to 0.744 read to 0.001: a slot of 0.749 leaves 0.004 to 0.010."""
        fit = joint_fits(case(*caliper("0.744", "0.740")))[0]

        assert fit.play_mm == inches("0.005")
        assert fit.least_mm == inches("0.004")
        assert fit.most_mm == inches("0.010")
        assert fit.is_certain
        assert fit.repeat is None

    def test_a_tape_does_not(self):
        """3/4 read to 1/16 may be 1/32 more: 0.005 - 0.03125 = -0.02625."""
        fit = joint_fits(case(*tape("3/4")))[0]

        assert fit.least_mm == inches("-0.02625")
        assert fit.most_mm == inches("0.03625")
        assert not fit.is_certain
        assert fit.repeat is not None
        assert fit.repeat.name == "Shelf"
        assert fit.repeat.from_mm == pytest.approx(float(inches("1/32")))
        assert fit.repeat.to_mm == pytest.approx(float(inches("0.001")))

    def test_without_a_reading_nothing_is_certain(self):
        fit = joint_fits(case())[0]

        assert not fit.measured
        assert not fit.is_certain
        assert fit.repeat is None

    def test_no_room_asked_for_is_never_certain(self):
        _, without = joint_fits(case(*caliper("0.744")))

        assert without.play_mm == 0
        assert without.least_mm == inches("-0.001")
        assert not without.is_certain


class TestDistances:
    def test_inside_is_off_by_both_sides(self):
        """36 less two thicknesses of one stock: sensitivity 2, so 2/32 at worst."""
        fits = {fit.distance.key: fit for fit in distance_fits(case(*tape("3/4")))}

        assert fits["inside"].uncertainty.worst_mm == inches("1/16")
        assert fits["inside"].is_certain  # to one mark of a tape with sixteenths
        assert fits["overall"].uncertainty.worst_mm == 0
        assert fits["overall"].repeat is None

    def test_what_nobody_measured_is_not_certain(self):
        fits = {fit.distance.key: fit for fit in distance_fits(case())}

        assert set(fits["inside"].unmeasured) == {"Left", "Right"}
        assert not fits["inside"].is_certain
        assert fits["overall"].is_certain

    def test_more_points_make_the_spread_smaller(self):
        few = {f.distance.key: f for f in distance_fits(case(*tape("3/4")))}
        many = {f.distance.key: f for f in distance_fits(case(*tape(*["3/4"] * 4)))}
        ratio = (
            few["inside"].uncertainty.spread_mm / many["inside"].uncertainty.spread_mm
        )

        assert ratio == pytest.approx(2)


def share(name="x", *, inch="0.75", times=1, half_mm=1):
    return Share(
        name=name,
        length_mm=inches(inch),
        sensitivity=Fraction(times),
        half_width_mm=Fraction(half_mm),
    )


class TestBestRepeat:
    def test_the_one_that_counts_most(self):
        """3 and 4 make 5; 4 by caliper leaves 3, 3 by caliper leaves 4."""
        shares = tuple(share(str(mm), half_mm=mm) for mm in (3, 4))
        best = best_repeat(shares)

        assert best is not None
        assert (best.name, best.by) == ("4", "caliper")
        assert best.from_mm == pytest.approx(5)
        assert best.to_mm == pytest.approx(math.hypot(3, 0.0254))
        assert best.gains_mm == pytest.approx(5 - math.hypot(3, 0.0254))

    def test_a_caliper_gains_nothing_by_a_caliper(self):
        fine = share(times=-2, half_mm=inches("0.001"))

        assert best_repeat((fine,)) is None

    @pytest.mark.parametrize(("inch", "by"), [("6", "caliper"), ("35.5", "tape")])
    def test_no_caliper_is_asked_for_what_it_does_not_span(self, inch, by):
        best = best_repeat((share(inch=inch),))

        assert best is not None
        assert best.by == by
        assert (best.gains_mm > 0) == (by == "caliper")

    def test_nothing_read_is_nothing_to_repeat(self):
        assert best_repeat(()) is None
