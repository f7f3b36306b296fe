"""The size of a unit in millimetres."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any, Literal

LengthUnit = Literal["in", "ft", "mm", "cm", "m"]

_DEFINED: dict[LengthUnit, Fraction] = {"mm": Fraction(1), "in": Fraction(254, 10)}


@cache
def mm_per(unit: LengthUnit) -> Fraction:
    """Return the exact size of one unit [mm].

    The two every plan needs stand here, since loading pint takes longer than solving
    a plan; the others are asked of pint. The tests hold all of them against pint.

    Source: the international inch, 25.4 mm exactly (Federal Register 24 FR 5348,
    1 July 1959).

    >>> mm_per("in"), mm_per("ft")
    (Fraction(127, 5), Fraction(1524, 5))
    """
    if unit in _DEFINED:
        return _DEFINED[unit]
    import pint

    registry: Any = pint.UnitRegistry(non_int_type=Fraction)
    return Fraction(registry.Quantity(Fraction(1), unit).to("mm").magnitude)
