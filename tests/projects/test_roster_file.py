"""A roster as a CSV file: which column holds the names, and in what encoding."""

import pytest

from projects.roster_file import NotATableError, read_names


class TestReadNames:
    @pytest.mark.parametrize(
        "text",
        [
            "Name\nAnn Other\nBo Lim\n",
            "Room,Student,Note\n7,Ann Other,x\n8,Bo Lim,\n",
            "room;NAME;note\r\n7;Ann Other;x\r\n8;Bo Lim;\r\n",
            "Room\tFull name\n7\tAnn Other\n8\tBo Lim\n",
            "First name,Last name,Mail\nAnn,Other,a@b.invalid\nBo,Lim,\n",
            "Surname,Given name\nOther,Ann\nLim,Bo\n",
            'Name,Phone\n"Ann\nOther",1\n  Bo   Lim ,2\n,3\n',
            "\n\nname\n\n1. Ann Other\n2. Bo Lim\n",
        ],
    )
    def test_the_column_is_found_by_its_head(self, text):
        read = read_names(text.encode())

        assert read.names == ["Ann Other", "Bo Lim"]
        assert read.is_sure

    def test_one_column_needs_no_head(self):
        read = read_names(b"Ann Other\nBo Lim\n")

        assert read.names == ["Ann Other", "Bo Lim"]
        assert read.is_sure

    @pytest.mark.parametrize(
        "text",
        [
            "Ann Other,7\nBo Lim,8\n",
            "Ann Other\nBo Lim;8\n",
            "Ann Other\tann@example.invalid\n",
            "Name\nAnn Other\nBo Lim, the younger\n",
        ],
    )
    def test_without_a_head_for_every_column_somebody_has_to_look(self, text):
        read = read_names(text.encode())

        assert read.names[0] == "Ann Other"
        assert not read.is_sure

    def test_last_name_first_in_one_column_has_to_be_looked_at(self):
        read = read_names(b"Other, Ann\nLim, Bo\n")

        assert not read.is_sure

    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
    def test_letters_survive_what_tables_are_saved_in(self, encoding):
        text = "Name\nZoë O\u2019Dell\nÅsa Öberg\n"

        assert read_names(text.encode(encoding)).names == [
            "Zoë O\u2019Dell",
            "Åsa Öberg",
        ]

    def test_bytes_of_no_encoding_are_read_as_something(self):
        assert read_names(b"Name\nZo\xeb \x81\n").names == ["Zoë \x81"]

    @pytest.mark.parametrize("data", [b"", b"\n\r\n", b",,\n,,\n"])
    def test_nothing_is_nobody(self, data):
        assert read_names(data).names == []

    @pytest.mark.parametrize(
        "data",
        [b"PK\x03\x04\x00\x00", b"a\0b", b"\xff\xfea", b'"' + b"x" * 140_000],
    )
    def test_what_is_no_text_table_is_refused(self, data):
        with pytest.raises(NotATableError):
            read_names(data)
