"""Showing lengths: on the tape, as decimals, exactly, and read aloud."""

from decimal import ROUND_HALF_EVEN, Decimal, localcontext
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.units import (
    decimal_text,
    exact_number,
    exact_text,
    nearest_mark,
    read_length,
    shown,
    tape_text,
)

IN = Fraction(254, 10)
lawful = settings(derandomize=True, max_examples=300, deadline=None)
tapes = st.sampled_from([8, 16, 32, 64])
# near marks, on them, between two of them, and anywhere
sizes = st.one_of(
    st.integers(0, 6400).map(lambda n: Fraction(n, 64)),
    st.integers(0, 6400).map(lambda n: Fraction(n, 128)),
    st.fractions(0, 100, max_denominator=10_000),
)


class TestNearestMark:
    @pytest.mark.parametrize(
        ("inches", "tape", "text", "off"),
        [
            ("35.25", 16, "35 1/4", "exact"),
            ("0.742", 16, "3/4", "scant"),
            ("0.755", 16, "3/4", "full"),
            ("3/64", 16, "1/16", "scant"),
            ("443/600", 64, "47/64", "full"),
            ("36", 16, "36", "exact"),
            ("35.99", 16, "36", "scant"),
            ("0.01", 16, "0", "full"),
            ("1/32", 16, "0", "full"),  # a tie: the even mark
            ("3/32", 16, "1/8", "scant"),
            ("1/2", 8, "1/2", "exact"),
        ],
    )
    def test_examples(self, inches, tape, text, off):
        mark = nearest_mark(Fraction(inches) * IN, tape=tape)

        assert (tape_text(mark), mark.off) == (text, off)

    @lawful
    @given(sizes, tapes)
    def test_no_mark_is_nearer(self, inches, tape):
        mark = nearest_mark(inches * IN, tape=tape)
        at = mark.whole + Fraction(mark.top, mark.bottom)
        below = inches.numerator * tape // inches.denominator
        marks = [Fraction(n, tape) for n in range(max(below - 2, 0), below + 4)]

        assert at in marks
        assert abs(at - inches) == min(abs(m - inches) for m in marks)

    @lawful
    @given(sizes, tapes)
    def test_off_says_on_which_side(self, inches, tape):
        mark = nearest_mark(inches * IN, tape=tape)
        at = mark.whole + Fraction(mark.top, mark.bottom)

        assert mark.off == (
            "exact" if inches == at else "full" if inches > at else "scant"
        )

    @lawful
    @given(sizes, tapes)
    def test_the_text_is_reduced_and_reads_back(self, inches, tape):
        mark = nearest_mark(inches * IN, tape=tape)
        text, at = tape_text(mark), mark.whole + Fraction(mark.top, mark.bottom)

        assert Fraction(mark.top, mark.bottom).denominator == mark.bottom
        assert mark.top < mark.bottom
        if at:
            assert read_length(text).mm == at * IN
        else:
            assert text == "0"


class TestDecimalText:
    @lawful
    @given(st.fractions(-2000, 2000, max_denominator=10**6), st.integers(0, 6))
    def test_agrees_with_decimals_half_even(self, value, places):
        with localcontext() as context:
            context.prec = 60
            # far more digits than are asked for, yet a tie stays a tie
            exact = Decimal(value.numerator) / Decimal(value.denominator)
            rounded = exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)

        assert decimal_text(value, places) == str(rounded if rounded else abs(rounded))

    @lawful
    @given(st.integers(-(10**6), 10**6), st.integers(1, 5))
    def test_ties_too(self, number, places):
        value = Fraction(2 * number + 1, 2 * 10**places)
        rounded = Decimal(2 * number + 1).scaleb(-places) / 2
        rounded = rounded.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)

        assert decimal_text(value, places) == str(rounded if rounded else abs(rounded))

    def test_nothing_is_minus_zero(self):
        assert decimal_text(Fraction(-1, 10**9), 4) == "0.0000"


class TestExactText:
    @pytest.mark.parametrize(
        ("value", "text"),
        [("3/4", "3/4"), ("36", "36"), ("35.25", "35.25"), ("0.742", "0.742"),
         ("443/600", "443/600"), ("1/64", "1/64"), ("1/128", "0.0078125"),
         ("-3/8", "-0.375"), ("-1/3", "-1/3"), ("0", "0")],
    )  # fmt: skip
    def test_examples(self, value, text):
        assert exact_number(Fraction(value)) == text

    @lawful
    @given(st.fractions(-100, 100, max_denominator=10**5))
    def test_says_the_value_itself(self, value):
        assert Fraction(exact_number(value)) == value

    def test_has_its_unit(self):
        assert exact_text(Fraction(19), unit="mm") == "19 mm"
        assert exact_text(IN * 36, unit="in") == "36 in"


class TestShown:
    @pytest.mark.parametrize(
        ("inches", "spoken"),
        [
            ("35.25", "35 and 1 quarter inches"),
            ("0.742", "3 quarters of an inch scant"),
            ("1/2", "1 half of an inch"),
            ("1", "1 inch"),
            ("36.01", "36 inches full"),
            ("1/16", "1 sixteenth of an inch"),
            ("0.7", "11 sixteenths of an inch full"),
        ],
    )
    def test_is_spoken_on_the_tape(self, inches, spoken):
        assert shown(Fraction(inches) * IN, style="tape").spoken == spoken

    def test_the_halves_of_a_tape_mark(self):
        mixed = shown(Fraction("35.25") * IN, style="tape")
        whole = shown(36 * IN, style="tape")
        fraction = shown(Fraction("0.742") * IN, style="tape")

        assert (mixed.whole, mixed.numerator, mixed.denominator) == ("35", "1", "4")
        assert (whole.whole, whole.numerator, whole.denominator) == ("36", "", "")
        assert (fraction.whole, fraction.numerator) == ("", "3")
        assert (mixed.word, fraction.word) == ("", "scant")

    def test_decimals(self):
        assert shown(Fraction("0.7425") * IN, style="in").text == "0.742"
        assert shown(Fraction("18.85"), style="mm").text == "18.8"
        assert shown(Fraction(19), style="mm").spoken == "19.0 millimetres"

    @lawful
    @given(sizes, tapes)
    def test_spoken_says_the_same_mark(self, inches, tape):
        mark = nearest_mark(inches * IN, tape=tape)
        spoken = shown(inches * IN, style="tape", tape=tape).spoken

        assert ("full" in spoken) == (mark.off == "full")
        assert ("scant" in spoken) == (mark.off == "scant")
        if mark.bottom > 1:
            assert f"{mark.top} " in spoken
        if mark.whole:
            assert spoken.startswith(f"{mark.whole} ")
