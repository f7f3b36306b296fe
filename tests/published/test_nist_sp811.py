"""Conversion and rounding as NIST SP 811 has them.

Source: A. Thompson, B. N. Taylor, Guide for the Use of the International System of
Units (SI), NIST Special Publication 811, 2008 edition: B.7.1 and B.7.2 for rounding,
B.8 for factors (those in bold there are exact). The figures are from memory; the
inch of 25.4 mm is also that of Federal Register 24 FR 5348, 1 July 1959.
"""

from fractions import Fraction

import pytest

from projects.engine.units import decimal_text, mm_per, read_length

METRE = 1000
EXACT_FACTORS_IN_METRES = {"in": "0.0254", "ft": "0.3048", "cm": "0.01", "m": "1"}


@pytest.mark.parametrize(("unit", "metres"), EXACT_FACTORS_IN_METRES.items())
def test_factors_of_b8_are_exact(unit, metres):
    assert mm_per(unit) == Fraction(metres) * METRE
    assert read_length(f"1 {unit}").mm == Fraction(metres) * METRE


@pytest.mark.parametrize(
    ("value", "places", "rounded"),
    [
        ("6.9749515", 2, "6.97"),
        ("6.9749515", 1, "7.0"),
        ("6.9749515", 4, "6.9750"),
        ("6.9749515", 6, "6.974952"),  # a tie: the odd digit goes up
        ("6.9749505", 6, "6.974950"),  # a tie: the even digit stays
    ],
)
def test_rounding_examples_of_b71(value, places, rounded):
    assert decimal_text(Fraction(value), places) == rounded


def test_36_feet_of_b72():
    """36 ft × 0.3048 m/ft = 10.9728 m, given as 11.0 m."""
    mm = read_length("36 ft").mm

    assert decimal_text(mm / METRE, 4) == "10.9728"
    assert decimal_text(mm / METRE, 1) == "11.0"


@pytest.mark.parametrize(
    ("value", "rounded"),
    [("45.7500", "45.8"), ("45.4500", "45.4"), ("45.45001", "45.5")],
)
def test_ties_to_even_as_astm_e29(value, rounded):
    """Hold the rounding to 0.1 of ASTM E29.

    Source: ASTM E29, Standard Practice for Using Significant Digits in Test Data,
    rounding method; the rows as a state's sampling manual gives them (seen there).
    """
    assert decimal_text(Fraction(value), 1) == rounded
