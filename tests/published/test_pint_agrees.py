"""Conversion agrees with pint (0.25.3), exactly.

pint is asked about plain decimal numbers only: it reads a mixed fraction as a product.
"""

from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.units import mm_per, read_length

REGISTRY: Any = pint.UnitRegistry(non_int_type=Fraction)
UNITS = ["in", "ft", "mm", "cm", "m"]


@pytest.mark.parametrize("unit", UNITS)
def test_the_size_of_each_unit(unit):
    assert mm_per(unit) == REGISTRY.Quantity(Fraction(1), unit).to("mm").magnitude


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.integers(1, 19_999), st.sampled_from(UNITS))
def test_decimals_with_a_unit(thousandths, unit):
    number = f"{thousandths // 1000}.{thousandths % 1000:03d}"
    theirs = REGISTRY.Quantity(Fraction(number), unit).to("mm").magnitude

    assert read_length(f"{number} {unit}").mm == theirs


def test_why_pint_never_gets_what_somebody_typed():
    misread = REGISTRY.Quantity("23 5/8 in").to("in").magnitude

    assert misread == Fraction(115, 8)
    assert read_length("23 5/8 in").mm / mm_per("in") == Fraction(189, 8)
