"""What moisture wood takes on in a room, given time."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from projects.engine.wood.number import Number, need_between

LOW_C, HIGH_C = Fraction(-2), Fraction(55)
"""The temperatures the equation was held against its table at [°C]."""

HIGH_HUMIDITY_PCT = Fraction(95)
"""The highest relative humidity it was held against its table at [%]."""

_W = ("349", "1.29", "0.0135")
_K = ("0.805", "0.000736", "-0.00000273")
_K1 = ("6.27", "-0.00938", "-0.000303")
_K2 = ("1.91", "0.0407", "-0.000293")


def equilibrium_moisture_pct(*, temperature_c: Number, humidity_pct: Number) -> Number:
    """Return the moisture [%] wood settles at in air that stays as it is.

    Parameters
    ----------
    temperature_c : Fraction or float
        The temperature of the air [°C], -2 to 55.
    humidity_pct : Fraction or float
        Its relative humidity [%], 0 to 95.

    Raises
    ------
    WoodError
        For a temperature or humidity outside those.

    Examples
    --------
    >>> round(equilibrium_moisture_pct(temperature_c=20.0, humidity_pct=50.0), 2)
    9.27

    Notes
    -----
    **Source**: Wood Handbook, FPL-GTR-282 (2021), chapter 4, Eq. 4-5, the constants
    for °C (seen in two copies); held against Table 4-2.
    """
    need_between("temperature_c", temperature_c, LOW_C, HIGH_C, unit="°C")
    need_between("humidity_pct", humidity_pct, 0, HIGH_HUMIDITY_PCT, unit="%")
    w, k, k1, k2 = (_at(c, temperature_c) for c in (_W, _K, _K1, _K2))
    kh = k * humidity_pct / 100
    first, second = k1 * kh, k1 * k2 * kh * kh
    return 1800 / w * (kh / (1 - kh) + (first + 2 * second) / (1 + first + second))


def _at(constants: Sequence[str], temperature_c: Number) -> Number:
    start, slope, bend = (Fraction(c) for c in constants)
    return start + slope * temperature_c + bend * temperature_c * temperature_c
