"""Inches to whole millimetres, ties to even, as the softwood lumber standard prints.

Source: DOC/NIST Voluntary Product Standard PS 20-20, American Softwood Lumber
Standard, Table 3 (minimum dressed dry sizes) and Appendix B, B1 (× 25.4, rounded,
ties to even). The sizes were seen in two secondary tables that agree; the rule is
from memory.
"""

import pytest

from projects.engine.units import decimal_text, read_length

SIZES = [
    ("3/4", "19"),
    ("1", "25"),
    ("1-1/4", "32"),
    ("1-1/2", "38"),
    ("2-1/2", "64"),  # 63.5 mm: the tie goes up to the even 64
    ("3-1/2", "89"),
    ("5-1/2", "140"),
    ("7-1/4", "184"),
    ("9-1/4", "235"),
    ("11-1/4", "286"),
]


@pytest.mark.parametrize(("inches", "mm"), SIZES)
def test_dressed_sizes_in_whole_millimetres(inches, mm):
    assert decimal_text(read_length(inches).mm, 0) == mm
