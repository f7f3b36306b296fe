"""Numbers of the wood formulas: exact or float, within stated limits."""

from __future__ import annotations

from fractions import Fraction

from projects.engine.errors import EngineError

Number = Fraction | float


class WoodError(EngineError):
    """Tell that a value lies outside what a table or formula is good for."""


def need_between(
    name: str, value: Number, low: Number, high: Number, *, unit: str
) -> None:
    """Raise `WoodError` unless `value` is from `low` to `high`, both allowed."""
    if not low <= value <= high:  # not: a NaN must not pass
        raise WoodError(
            "{name} must be {low} to {high} {unit} (got {value})",
            name=name,
            low=_plain(low),
            high=_plain(high),
            unit=unit,
            value=_plain(value),
        )


def need_above_zero(name: str, value: Number, *, unit: str) -> None:
    """Raise `WoodError` unless `value` is finite and above 0."""
    if not 0 < value < float("inf"):
        raise WoodError(
            "{name} must be above 0 {unit} (got {value})",
            name=name,
            unit=unit,
            value=_plain(value),
        )


def _plain(value: Number) -> str:
    return f"{float(value):.6g}"
