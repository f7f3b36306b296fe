"""Text in tables that no spreadsheet takes for a formula.

Source: OWASP, Application Security Verification Standard 5.0.0 (2025), requirement
1.2.10: a field whose first character is = + - @, a tab or a null character is escaped
with a single quote; RFC 4180, sections 2.6 and 2.7: fields with line breaks, quotes or
commas stand in quotes, and a quote in one is doubled.
"""

import pytest

from projects.csv_text import cell, csv_bytes


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\0"])
def test_a_cell_that_starts_like_a_formula_gets_a_quote(sign):
    assert cell(f"{sign}HYPERLINK(A1)") == f"'{sign}HYPERLINK(A1)"


def test_fields_are_quoted_as_rfc_4180_says():
    data = csv_bytes(["a"], [['x "y", z'], ["1\r\n2"]])

    assert data.decode("utf-8-sig") == 'a\r\n"x ""y"", z"\r\n"1\r\n2"\r\n'
