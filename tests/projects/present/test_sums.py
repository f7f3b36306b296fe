"""A size as a sum: every line of it, and that they add up."""

from fractions import Fraction

import pytest

from projects import adapters
from projects.present.sums import number_text, size_sum
from projects.showing import showing_named
from tests.factories import OPENING, SHELF_CUT, log, log_stock

IN = Fraction(254, 10)


@pytest.fixture
def solution(build):
    log_stock(build)
    log(build, SHELF_CUT, "35 1/4", instrument="tape")
    log(build, OPENING, "34 17/32", "34 17/32", instrument="tape")
    return adapters.solve_build(build, list(build.readings.all()))


class TestNumberText:
    @pytest.mark.parametrize(
        ("inches", "text"),
        [
            ("3/4", ("3/4", "")),
            ("71/2", ("35 1/2", "")),
            ("36", ("36", "")),
            ("0.742", ("0.742", "")),
            ("2.227/3", ("0.74233", "2227/3000 in")),
        ],
    )
    def test_inches(self, inches, text):
        top, _, bottom = inches.partition("/")
        value = Fraction(top) / Fraction(bottom or 1)

        assert number_text(value * IN, "in") == text

    @pytest.mark.parametrize(
        ("mm", "text"),
        [
            (Fraction(19), ("19", "")),
            (Fraction("18.9"), ("18.9", "")),
            (Fraction(56, 3), ("18.6667", "56/3 mm")),
        ],
    )
    def test_millimetres(self, mm, text):
        assert number_text(mm, "mm") == text


def test_the_terms_of_every_size_add_up_exactly(solution):
    for size, mm in solution.sizes.items():
        terms = solution.terms(solution.form(size))

        assert sum(term.coefficient * term.mm for term in terms) == mm


def test_every_size_has_a_sum_with_a_line_a_term(solution):
    showing = showing_named("", solution.plan)
    for size in solution.sizes:
        made = size_sum(solution, size, showing)

        assert len(made.lines) == len(solution.terms(solution.form(size)))
        assert made.lines[0].sign in ("", "−")
        assert all(line.sign in ("+", "−") for line in made.lines[1:])


def test_a_mean_names_its_readings(solution):
    made = size_sum(solution, ("seat", "thickness"), showing_named("", solution.plan))
    (line,) = made.lines

    assert line.readings == ("0.742 in", "0.744 in", "0.741 in")
    assert (line.value, line.exact) == ("0.74233", "2227/3000 in")


def test_a_cut_size_is_what_was_read(solution):
    made = size_sum(solution, ("shelf", "length"), showing_named("", solution.plan))

    assert made.is_cut
    assert made.total == "35 1/4"


def test_a_tape_is_less_sure_than_a_caliper(solution):
    showing = showing_named("", solution.plan)
    cut = size_sum(solution, ("shelf", "length"), showing)
    side = size_sum(solution, ("left_side", "thickness"), showing)

    assert float(cut.worst) > float(side.worst) > 0
