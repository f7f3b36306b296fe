"""Lengths: read what people type, keep them exact, show them.

A length is an exact `fractions.Fraction` of millimetres. `read` turns text into
one, `show` turns one into text, `convert` asks pint for the size of a unit.
Nothing typed is ever given to pint: it reads `23 5/8 in` as a product.
"""

from projects.engine.units.convert import mm_per
from projects.engine.units.length import Length
from projects.engine.units.read import MAX_MM, read_length, read_number
from projects.engine.units.show import (
    Shown,
    TapeMark,
    decimal_text,
    exact_number,
    exact_text,
    nearest_mark,
    shown,
    tape_text,
)

__all__ = [
    "MAX_MM",
    "Length",
    "Shown",
    "TapeMark",
    "decimal_text",
    "exact_number",
    "exact_text",
    "mm_per",
    "nearest_mark",
    "read_length",
    "read_number",
    "shown",
    "tape_text",
]
