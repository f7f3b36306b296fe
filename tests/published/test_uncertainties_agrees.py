"""What a size can be off by agrees with the `uncertainties` package (3.2.3).

It carries the error of each reading through any arithmetic, and knows that two
sizes made from the same reading err together. Each reading is one of its variables,
with half the width of its instrument's mark as the standard deviation.
"""

import pytest
from uncertainties import ufloat

from projects.engine.fit.solve import solve
from projects.engine.fit.uncertainty import uncertainty
from projects.engine.plan.readings import Fact, Reading, Readings
from projects.engine.units import read_length
from tests.engine.builds import IN, boot_bench, distance, inches, plan

TAPE_MM = float(IN / 32)
"""Half the space between two marks of a tape with 16 to the inch."""
CALIPER_MM = float(IN / 1000)


def reading(text, instrument="caliper"):
    return Reading(length=read_length(text), instrument=instrument)


def variable(of):
    """Return a reading as a variable with its own error."""
    deviation = CALIPER_MM if of.instrument == "caliper" else TAPE_MM
    return ufloat(float(of.length.mm), deviation)


def mean(points):
    return sum(points) / len(points)


STOCK = (reading("0.742"), reading("0.744", "tape"), reading("0.741"))
LEFT = (reading("0.755"), reading("0.751"))
OPENING = Fact(kind="distance", key="opening")


def spread_mm(readings, size):
    solution = solve(plan(boot_bench()), readings)
    return uncertainty(solution, solution.form(size)).spread_mm


class TestByHand:
    """The shelf is as long as the sums below say; they are worked out by hand."""

    def test_two_sides_of_one_stock_err_together(self):
        """36 − left − right + 3/8 + half of right, both sides one board."""
        board = mean([variable(point) for point in STOCK])
        theirs = 36 * 25.4 - board - board + 0.375 * 25.4 + board / 2
        ours = spread_mm(Readings(stock={"board": STOCK}), ("shelf", "length"))

        assert ours == pytest.approx(theirs.std_dev, rel=1e-12)

    def test_a_side_with_readings_of_its_own_errs_alone(self):
        board = mean([variable(point) for point in STOCK])
        left = mean([variable(point) for point in LEFT])
        theirs = 36 * 25.4 - left - board + 0.375 * 25.4 + board / 2
        readings = Readings(stock={"board": STOCK}, parts={"left_side": LEFT})

        assert spread_mm(readings, ("shelf", "length")) == pytest.approx(
            theirs.std_dev, rel=1e-12
        )

    def test_a_measured_opening_takes_the_sides_out(self):
        """Opening + 3/8 + half of the right side."""
        opening = reading("34 17/32", "tape")
        board = mean([variable(point) for point in STOCK])
        theirs = variable(opening) + 0.375 * 25.4 + board / 2
        readings = Readings(stock={"board": STOCK}, facts={OPENING: opening})

        assert spread_mm(readings, ("shelf", "length")) == pytest.approx(
            theirs.std_dev, rel=1e-12
        )

    def test_a_cut_part_errs_by_its_own_reading_alone(self):
        cut = Fact(kind="cut", key="shelf", dimension="length")
        readings = Readings(stock={"board": STOCK}, facts={cut: reading("35", "tape")})

        assert spread_mm(readings, ("shelf", "length")) == pytest.approx(TAPE_MM)

    def test_nothing_measured_is_not_off(self):
        assert spread_mm(Readings(), ("shelf", "length")) == 0


def an_inch_thicker(points, n):
    """Return a board's points, the one at n read 1 in thicker."""
    length = read_length(f"{points[n].length.mm / IN + 1} in")
    thicker = Reading(length=length, instrument=points[n].instrument)
    return (*points[:n], thicker, *points[n + 1 :])


@pytest.mark.parametrize("rank", [1, 3])
@pytest.mark.parametrize("size", [("shelf", "length"), ("left_side", "length")])
def test_each_reading_moved_on_its_own(rank, size):
    """Move each reading, see what the whole solve makes of it, add up their errors."""
    data = boot_bench()
    # a height that hangs on a thickness: at rank 1 the sides' length gives for it
    data["distances"].append(
        distance("over", "shelf.top", "left_side.top", "10", held=rank)
    )
    read = plan(data)
    solution = solve(read, Readings(stock={"board": STOCK}, parts={"left_side": LEFT}))
    changes = [
        (point, Readings(stock={"board": an_inch_thicker(STOCK, n)},
                         parts={"left_side": LEFT}))
        for n, point in enumerate(STOCK)
    ] + [
        (point, Readings(stock={"board": STOCK},
                         parts={"left_side": an_inch_thicker(LEFT, n)}))
        for n, point in enumerate(LEFT)
    ]  # fmt: skip
    sensitivities = [
        (point, (solve(read, after).sizes[size] - solution.sizes[size]) / inches(1))
        for point, after in changes
    ]
    errors = [float(s) * variable(point) for point, s in sensitivities if s]
    theirs = sum(errors[1:], errors[0]).std_dev if errors else 0.0
    found = uncertainty(solution, solution.form(size))

    assert bool(errors) is (rank == 1 or size[0] == "shelf")
    assert found.spread_mm == pytest.approx(theirs, rel=1e-12)
    assert found.worst_mm == sum(
        abs(s) * point.half_width_mm(tape=16) for point, s in sensitivities
    )
