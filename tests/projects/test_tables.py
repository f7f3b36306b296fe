"""Tables to take away: read back as what was written."""

import csv
import io
from datetime import UTC, date, datetime

import pytest
from odfdo import Document

from projects.tables import Value, csv_bytes, ods_bytes, table_response

HEADER = ["Student", "Machine", "Until", "Met"]
ROWS: list[list[Value]] = [
    ["Perpetua Lindqvale", "Table saw", date(2027, 3, 3), 4],
    ['Cosimo "Co" Bellwether, jr', "Röhre\nzwei", None, 0],
]


def read_csv(made):
    return list(csv.reader(io.StringIO(made.decode("utf-8-sig"), newline="")))


def sheet_of(made):
    return Document(io.BytesIO(made)).body.get_table(0)


class TestCsv:
    def test_it_reads_back(self):
        assert read_csv(csv_bytes(HEADER, ROWS)) == [
            HEADER,
            ["Perpetua Lindqvale", "Table saw", "2027-03-03", "4"],
            ['Cosimo "Co" Bellwether, jr', "Röhre\nzwei", "", "0"],
        ]

    @pytest.mark.parametrize(
        "text",
        [
            "=1+1",
            "＝1+1",
            "+1",
            "-2",
            "@SUM(A1)",
            "\t=1",
            "\r=1",
            " =HYPERLINK(1)",
            "\n=1",
        ],
    )
    def test_no_text_is_run_as_a_formula(self, text):
        made = csv_bytes(["=A1"], [[text]])

        assert read_csv(made) == [["'=A1"], [f"'{text}"]]

    def test_a_number_below_zero_stays_a_number(self):
        assert read_csv(csv_bytes(["n"], [[-2]]))[1] == ["-2"]

    def test_a_time_is_our_own(self, settings):
        settings.TIME_ZONE = "America/Chicago"
        at = datetime(2026, 3, 3, 1, 30, tzinfo=UTC)

        assert read_csv(csv_bytes(["at"], [[at]]))[1] == ["2026-03-02 19:30"]


class TestOds:
    def test_it_reads_back_with_its_types(self):
        sheet = sheet_of(ods_bytes("sign-offs", HEADER, ROWS))

        assert sheet.name == "sign-offs"
        assert sheet.get_row_values(0) == HEADER
        name, _machine, until, met = sheet.get_row_values(1)
        assert name == "Perpetua Lindqvale"
        assert (until.year, until.month, until.day) == (2027, 3, 3)
        assert met == 4
        assert sheet.get_cell((2, 1)).type == "date"
        assert sheet.get_cell((3, 1)).type == "float"

    @pytest.mark.parametrize("text", ["=1+1", "of:=SUM([.A1])", "+1", "<b>&amp;"])
    def test_a_text_stays_a_text(self, text):
        cell = sheet_of(ods_bytes("t", ["a"], [[text]])).get_cell((0, 1))

        assert cell.type == "string"
        assert cell.formula is None
        assert cell.value == text

    def test_signs_that_xml_refuses_are_left_out(self):
        cell = sheet_of(ods_bytes("t", ["a"], [["one\x0btwo\ufffe"]])).get_cell((0, 1))

        assert cell.value == "onetwo"


class TestResponse:
    @pytest.mark.parametrize(
        ("kind", "content_type"),
        [
            ("csv", "text/csv; charset=utf-8"),
            ("ods", "application/vnd.oasis.opendocument.spreadsheet"),
        ],
    )
    def test_it_is_a_file_to_keep(self, kind, content_type):
        answered = table_response("sign-offs-7", kind, HEADER, ROWS)

        assert answered.headers["Content-Type"] == content_type
        assert answered.headers["Content-Disposition"] == (
            f'attachment; filename="sign-offs-7.{kind}"'
        )
