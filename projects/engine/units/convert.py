"""The size of a unit in millimetres, asked of pint once for each unit."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any, Literal

import pint

LengthUnit = Literal["in", "ft", "mm", "cm", "m"]


@cache
def _registry() -> Any:
    return pint.UnitRegistry(non_int_type=Fraction)


@cache
def mm_per(unit: LengthUnit) -> Fraction:
    """Return the exact size of one unit [mm].

    Source: the international inch, 25.4 mm exactly (Federal Register 24 FR 5348,
    1 July 1959), as pint's registry carries it; held against NIST SP 811 in
    `tests/published/test_nist_sp811.py`.

    >>> mm_per("in")
    Fraction(127, 5)
    """
    return Fraction(_registry().Quantity(Fraction(1), unit).to("mm").magnitude)
