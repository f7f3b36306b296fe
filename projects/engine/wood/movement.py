"""How much wider or narrower a board gets as its moisture changes."""

from __future__ import annotations

from fractions import Fraction

from projects.engine.wood.number import Number, need_above_zero, need_between

LOW_PCT, HIGH_PCT = Fraction(6), Fraction(14)
"""The moistures the coefficients hold between [%].

Source: Wood Handbook, FPL-GTR-190 (2010), Eq. 13-2 and Table 13-5.
"""


def dimensional_change_mm(
    *, width_mm: Number, coefficient: Number, from_pct: Number, to_pct: Number
) -> Number:
    """Return how much wider [mm] a board gets; below 0 where it shrinks.

    Parameters
    ----------
    width_mm : Fraction or float
        The size across the grain at the first moisture [mm], above 0.
    coefficient : Fraction or float
        The change, as a share of the size, for each 1 % of moisture [1/%], above 0:
        radial for quartersawn boards, tangential for flatsawn ones.
    from_pct, to_pct : Fraction or float
        The moisture before and after [%], each 6 to 14.

    Raises
    ------
    WoodError
        For a moisture outside 6 to 14 %, and for a size or coefficient not above 0.

    Examples
    --------
    >>> round(float(dimensional_change_mm(
    ...     width_mm=232, coefficient=0.00245, from_pct=8, to_pct=11)), 1)
    1.7

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-190 (2010), chapter 13, Eq. 13-2.
    """
    need_above_zero("width_mm", width_mm, unit="mm")
    need_above_zero("coefficient", coefficient, unit="1/%")
    need_between("from_pct", from_pct, LOW_PCT, HIGH_PCT, unit="% moisture")
    need_between("to_pct", to_pct, LOW_PCT, HIGH_PCT, unit="% moisture")
    return width_mm * coefficient * (to_pct - from_pct)
