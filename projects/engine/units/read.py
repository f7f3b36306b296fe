"""Read a length the way people in a workshop write one.

    3/4    23 5/8    23-5/8    23.625    5½    1 ft 3 1/2 in    1' 3-1/2"
    19 mm    1.9 cm    0.6 m

The text is split into number-and-unit pairs; only feet may be followed by a
second pair, which is inches. Everything else is refused, with what was read.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import NoReturn

from projects.engine.errors import LengthError
from projects.engine.units.convert import LengthUnit, mm_per
from projects.engine.units.length import Length, UnitSystem

MAX_MM = Fraction(20_000)
"""The longest length anybody may give [mm]: 20 m."""

FINEST = 10**12
"""The largest denominator of a length in its unit [-]: keeps all sums short."""

MAX_CHARACTERS = 200
"""Far more than a length needs; keeps a hostile text cheap to refuse."""

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5",
    "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7",
    "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_SIGNS = str.maketrans(
    {
        "⁄": "/", "∕": "/", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'",
        "‘": "'", "‐": "-", "‑": "-", "–": "-", "−": "-",
        "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ",
    }
)  # fmt: skip
_UNITS: dict[str, LengthUnit] = {
    '"': "in", "''": "in", "in": "in", "in.": "in", "inch": "in", "inches": "in",
    "'": "ft", "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft",
    "mm": "mm", "cm": "cm", "m": "m",
}  # fmt: skip

_NUMBER = (
    r"(?:(?P<whole>[0-9]+)(?: +|-)(?P<part>[0-9]+ ?/ ?[0-9]+)"
    r"|(?P<fraction>[0-9]+ ?/ ?[0-9]+)|(?P<decimal>[0-9]+\.?[0-9]*|\.[0-9]+))"
)
_PAIR = re.compile(_NUMBER + r" *(?P<unit>''|['\"]|[a-z]+\.?)?", re.ASCII)


def read_length(text: str, *, unit: UnitSystem = "in", field: str = "length") -> Length:
    r"""Return the length that `text` says.

    `unit` is what a number without a unit is in. `field` names the place in the
    error. Raises `LengthError` for anything unreadable, not above 0, or more
    than 20 m.

    >>> read_length("23 5/8").mm
    Fraction(24003, 40)
    >>> read_length("1' 3-1/2\"").mm == read_length("15.5 in").mm
    True
    """
    if not isinstance(text, str):
        _refuse(field, text, "this is not a length")
    plain = _plain(text)
    if len(text) > MAX_CHARACTERS:
        _refuse(field, text[:40] + "…", "this is too long to be a length")
    if not plain:
        _refuse(field, text, "there is nothing here")
    if plain.startswith("-"):
        _refuse(field, text, "a length must be above 0")
    if "," in plain:
        _refuse(field, text, "write decimals with a point")
    mm, given_in = _sum_of_pairs(plain, unit, field, text)
    return _within_limits(mm, given_in, field, text)


def read_number(text: str, *, unit: UnitSystem, field: str) -> Length:
    """Return the length a bare JSON number says, in the plan's `unit`.

    `text` is the number as it stands in the file, so that `0.742` stays exact.
    Raises `LengthError` as `read_length` does, for NaN and Infinity too.
    """
    try:
        value = Decimal(text)
    except ArithmeticError:
        _refuse(field, text, "this is not a length")
    # a huge exponent is refused before it can become a huge integer
    if not value.is_finite() or len(text) > MAX_CHARACTERS or value.adjusted() > 6:
        _refuse(field, text[:40], "a length must be a number of at most 20 m")
    if value.adjusted() < -MAX_CHARACTERS:
        _refuse(field, text[:40], "a length must be above 0")
    mm = Fraction(value) * mm_per(unit)
    return _within_limits(mm, unit, field, text)


def _plain(text: str) -> str:
    text = text.translate(_SIGNS)
    for sign, fraction in _VULGAR.items():
        text = text.replace(f"-{sign}", f"-{fraction}").replace(sign, f" {fraction}")
    return text.strip().lower()


def _sum_of_pairs(
    plain: str, unit: UnitSystem, field: str, text: str
) -> tuple[Fraction, UnitSystem]:
    found = _PAIR.match(plain)
    if found is None:
        _refuse(field, text, "this is not a length")
    first_unit = _unit(found["unit"], unit, field, text)
    total = _value(found, field, text) * mm_per(first_unit)
    rest = plain[found.end() :].strip()
    if rest and first_unit == "ft":
        # "1 ft 3 1/2 in" and "1'-3 1/2": after feet only inches can follow
        found = _PAIR.fullmatch(rest.removeprefix("-").lstrip())
        if found is None or _unit(found["unit"], "in", field, text) != "in":
            _refuse(field, text, "after feet only inches can follow")
        total += _value(found, field, text) * mm_per("in")
    elif rest:
        _refuse(field, text, "this is not a length")
    return total, "in" if first_unit in ("in", "ft") else "mm"


def _unit(word: str | None, default: UnitSystem, field: str, text: str) -> LengthUnit:
    if word is None:
        return default
    if word not in _UNITS:
        _refuse(field, text, "the unit must be in, ft, mm, cm or m")
    return _UNITS[word]


def _value(found: re.Match[str], field: str, text: str) -> Fraction:
    if found["decimal"] is not None:
        return Fraction(found["decimal"].rstrip("."))
    top, bottom = (int(n) for n in (found["part"] or found["fraction"]).split("/"))
    if bottom == 0:
        _refuse(field, text, "a fraction can't have 0 below the line")
    if found["whole"] is None:
        return Fraction(top, bottom)
    if top >= bottom:
        _refuse(field, text, "after a whole number the fraction must be less than 1")
    return int(found["whole"]) + Fraction(top, bottom)


def _within_limits(mm: Fraction, unit: UnitSystem, field: str, text: str) -> Length:
    if mm <= 0:
        _refuse(field, text, "a length must be above 0")
    if mm > MAX_MM:
        _refuse(field, text, "a length can be at most 20 m")
    if (mm / mm_per(unit)).denominator > FINEST:
        _refuse(field, text, "this is finer than anybody can measure")
    return Length(mm=mm, unit=unit)


def _refuse(field: str, read: object, why: str) -> NoReturn:
    raise LengthError(
        "{field}: {why}, for example 3/4, 23 5/8, 0.742 or 19 mm (read: {read!r})",
        field=field,
        why=why,
        read=read,
    )
