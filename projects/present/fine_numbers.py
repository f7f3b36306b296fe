"""Which numbers of a setting are set by caliper, and how finely they are told."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from django.utils.translation import gettext

from projects.engine.fit.solve import Solution
from projects.engine.setups.setting_records import Kind, Quantity, Setting
from projects.engine.units import decimal_text, mm_per
from projects.engine.units.length import UnitSystem
from projects.present.drawings import length_text
from projects.present.run_sheet_numbers import number_label
from projects.present.sums import SumLine, number_text, term_lines
from projects.showing import Showing

_BY_CALIPER: tuple[Kind, ...] = ("shoulder", "cheek", "rabbet", "lap", "mortise")
"""Cuts whose stop and height fit one part to another. Source: own."""


def is_fine(setting: Setting, mm: Fraction) -> bool:
    """Tell whether a length of a setting is set finer than a tape shows."""
    return any(
        quantity.mm == mm and _is_fine(setting, quantity)
        for quantity in setting.quantities
    )


def _is_fine(setting: Setting, quantity: Quantity) -> bool:
    if quantity.name == "width":
        return True
    return setting.kind in _BY_CALIPER and quantity.name in ("stop", "height")


def exactly_beside(mm: Fraction, setting: Setting, showing: Showing) -> str:
    """Return a length in decimals where a tape shows it between two marks, else ""."""
    if not showing.of(mm).word or not is_fine(setting, mm):
        return ""
    fine = showing.difference(mm)
    return f"{fine.text} {fine.unit}"


def drawn_length(mm: Fraction, *, setting: Setting, showing: Showing) -> str:
    """Return a length as it stands in a setting's drawing: in decimals where fine."""
    return exactly_beside(mm, setting, showing) or length_text(mm, showing)


@dataclass(frozen=True, kw_only=True)
class NumberSum:
    """One number of a setting as the sum it is."""

    label: str
    lines: tuple[SumLine, ...]
    total: str
    unit: str


def number_sums(
    solution: Solution, setting: Setting, showing: Showing
) -> tuple[NumberSum, ...]:
    """Return the numbers of a setting with their sums; none for what waits."""
    return tuple(
        NumberSum(
            label=number_label(quantity.name, setting),
            lines=_lines(solution, quantity, showing.unit),
            total=decimal_text(
                quantity.mm / mm_per(showing.unit), 4 if showing.unit == "in" else 2
            ),
            unit=showing.unit,
        )
        for quantity in setting.quantities
        if quantity.mm is not None
    )


def _lines(
    solution: Solution, quantity: Quantity, unit: UnitSystem
) -> tuple[SumLine, ...]:
    found = [*term_lines(solution, quantity.terms(solution), unit)]
    for extra in quantity.extras:
        value, exact = number_text(abs(extra.mm), unit)
        leading = "" if not found else "+"
        found.append(
            SumLine(
                sign="−" if extra.mm < 0 else leading,
                times="",
                value=value,
                unit=unit,
                name=gettext(extra.name),
                exact=exact,
                readings=(),
            )
        )
    return tuple(found)
