"""Show an exact length on a tape, as decimal inches or in millimetres."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from projects.engine.units.convert import mm_per
from projects.engine.units.length import UnitSystem

Off = Literal["exact", "full", "scant"]
Style = Literal["tape", "in", "mm"]
TAPES = (8, 16, 32, 64)

_ORDINALS = {
    2: ("half", "halves"),
    4: ("quarter", "quarters"),
    8: ("eighth", "eighths"),
    16: ("sixteenth", "sixteenths"),
    32: ("thirty-second", "thirty-seconds"),
    64: ("sixty-fourth", "sixty-fourths"),
}


@dataclass(frozen=True, kw_only=True)
class TapeMark:
    """Name a mark of a tape: `whole` inches and `top`/`bottom` of one, reduced.

    `off` says how the exact value lies to the mark: `exact`, `full` (over it) or
    `scant` (under it). `bottom` is 1 where there is no fraction.
    """

    whole: int
    top: int
    bottom: int
    off: Off


@dataclass(frozen=True, kw_only=True)
class Shown:
    """Hold one length ready for a page: what is seen and what is read aloud.

    For a tape `whole`, `numerator` and `denominator` are filled ("" where there
    is none), for decimals `text`. `word` is "full", "scant" or "".
    """

    style: Style
    spoken: str
    unit: str
    word: str = ""
    whole: str = ""
    numerator: str = ""
    denominator: str = ""
    text: str = ""


def nearest_mark(mm: Fraction, *, tape: int) -> TapeMark:
    """Return the mark of a tape nearest to `mm` [mm]; a tie goes to the even mark.

    `mm` is 0 or more, as on a tape; `tape` is the number of marks in an inch [-]:
    8, 16, 32 or 64.

    >>> nearest_mark(Fraction(895350, 1000), tape=16)
    TapeMark(whole=35, top=1, bottom=4, off='exact')
    """
    inches = mm / mm_per("in")
    marks = round(inches * tape)
    at = Fraction(marks, tape)
    off: Off = "full" if inches > at else "scant" if inches < at else "exact"
    whole, rest = divmod(at, 1)
    return TapeMark(whole=whole, top=rest.numerator, bottom=rest.denominator, off=off)


def tape_text(mark: TapeMark) -> str:
    """Return a tape mark as text, such as `35 1/4`, `3/8` or `0`."""
    if mark.bottom == 1:
        return str(mark.whole)
    fraction = f"{mark.top}/{mark.bottom}"
    return f"{mark.whole} {fraction}" if mark.whole else fraction


def decimal_text(value: Fraction, places: int) -> str:
    """Return `value` with `places` decimals, rounded half to even.

    Source: NIST SP 811 (2008), B.7.1, for the rule of rounding.

    >>> decimal_text(Fraction("6.9749505"), 6), decimal_text(Fraction("6.9749515"), 6)
    ('6.974950', '6.974952')
    """
    scaled = round(value * 10**places)
    whole, rest = divmod(abs(scaled), 10**places)
    sign = "-" if scaled < 0 else ""
    return f"{sign}{whole}.{rest:0{places}d}" if places else f"{sign}{whole}"


def exact_number(value: Fraction) -> str:
    """Return `value` exactly: a workshop fraction, an ending decimal or a ratio.

    >>> [exact_number(Fraction(n)) for n in ("3/4", "36", "35.25", "0.742", "443/600")]
    ['3/4', '36', '35.25', '0.742', '443/600']
    """
    if value.denominator == 1:
        return str(value.numerator)
    if 0 < value < 1 and value.denominator in (2, 4, 8, 16, 32, 64):
        return f"{value.numerator}/{value.denominator}"
    places = _decimal_places(value.denominator)
    if places is None:
        return f"{value.numerator}/{value.denominator}"
    return decimal_text(value, places)


def _decimal_places(denominator: int) -> int | None:
    twos = fives = 0
    while denominator % 2 == 0:
        denominator //= 2
        twos += 1
    while denominator % 5 == 0:
        denominator //= 5
        fives += 1
    return max(twos, fives) if denominator == 1 else None


def exact_text(mm: Fraction, *, unit: UnitSystem) -> str:
    """Return the exact value of `mm` [mm] in `unit`, such as `443/600 in`."""
    return f"{exact_number(mm / mm_per(unit))} {unit}"


def shown(mm: Fraction, *, style: Style, tape: int = 16) -> Shown:
    """Return `mm` [mm] ready for a page: on the tape, in decimal inches or in mm.

    Decimal inches have 3 places, what a caliper shows; millimetres have 1. Below
    0, as a distance between two faces can be, it has a minus sign.
    """
    if mm < 0:
        return _negative(shown(-mm, style=style, tape=tape))
    if style == "mm":
        text = decimal_text(mm, 1)
        return Shown(style=style, spoken=f"{text} millimetres", unit="mm", text=text)
    if style == "in":
        text = decimal_text(mm / mm_per("in"), 3)
        return Shown(style=style, spoken=f"{text} inches", unit="in", text=text)
    mark = nearest_mark(mm, tape=tape)
    fraction = mark.bottom != 1
    return Shown(
        style=style,
        spoken=_spoken(mark),
        unit="in",
        word="" if mark.off == "exact" else mark.off,
        whole=str(mark.whole) if mark.whole or not fraction else "",
        numerator=str(mark.top) if fraction else "",
        denominator=str(mark.bottom) if fraction else "",
    )


def _negative(size: Shown) -> Shown:
    text = f"−{size.text}" if size.text else ""
    whole = "" if text else f"−{size.whole}"
    return replace(size, spoken=f"minus {size.spoken}", text=text, whole=whole)


def _spoken(mark: TapeMark) -> str:
    off = "" if mark.off == "exact" else f" {mark.off}"
    if mark.bottom == 1:
        return f"{mark.whole} {'inch' if mark.whole == 1 else 'inches'}{off}"
    ordinal = _ORDINALS[mark.bottom][mark.top > 1]
    if mark.whole:
        return f"{mark.whole} and {mark.top} {ordinal} inches{off}"
    return f"{mark.top} {ordinal} of an inch{off}"
