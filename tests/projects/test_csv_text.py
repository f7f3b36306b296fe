"""Tables as CSV text."""

import csv
import io

import pytest

from projects.csv_text import cell, csv_bytes


def read(data):
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


class TestCell:
    @pytest.mark.parametrize(
        ("value", "text"),
        [
            (None, ""),
            (True, "yes"),
            (False, "no"),
            (-3, "-3"),
            ("Zoë O'Brien-Łuk", "Zoë O'Brien-Łuk"),
            ([{"at": "-1"}], '[{"at": "-1"}]'),
        ],
    )
    def test_a_value_stands_as_people_read_it(self, value, text):
        assert cell(value) == text


class TestCsvBytes:
    def test_what_was_typed_comes_back(self):
        rows = [["a, b", 'said "no"'], ["two\nlines", "ﷺ"]]

        assert read(csv_bytes(["x", "y"], rows)) == [["x", "y"], *rows]

    def test_a_spreadsheet_is_told_the_encoding(self):
        assert csv_bytes(["x"], []) == b"\xef\xbb\xbfx\r\n"

    @pytest.mark.parametrize(
        "start", ["=", "+", "-", "@", "\t", "\r", "\n", " =", "  @"]
    )
    def test_a_spreadsheet_runs_nothing(self, start):
        assert cell(f"{start}1+1") == f"'{start}1+1"
