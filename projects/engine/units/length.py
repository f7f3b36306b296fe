"""The record of one length that somebody gave."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

UnitSystem = Literal["in", "mm"]


@dataclass(frozen=True, kw_only=True)
class Length:
    """Keep a length exactly, with the unit it was given in.

    `mm` is the value [mm]; `unit` is `in` for anything in feet or inches and `mm`
    for anything metric, so that it can be told back the way it was said.
    """

    mm: Fraction
    unit: UnitSystem
