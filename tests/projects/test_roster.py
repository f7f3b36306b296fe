"""A pasted roster, the sign-in names made of it and first passwords."""

import re

import pytest

from projects.roster import first_password, read_roster, sign_in_name


class TestReadRoster:
    def test_one_name_a_line_tidied(self):
        text = (
            "  Perpetua   Lindqvale \r\n\r\nCosimo Bellwether\u2028Ædric Sølvmose\n\n"
        )

        assert read_roster(text) == [
            "Perpetua Lindqvale",
            "Cosimo Bellwether",
            "Ædric Sølvmose",
        ]

    def test_pasted_lists_lose_their_numbers_and_further_columns(self):
        text = "1. Ann Other\tRoom 7\n2) Zoë Brandt\t\t9\n3 Bo Lim\nAnn 3rd"

        assert read_roster(text) == ["Ann Other", "Zoë Brandt", "Bo Lim", "Ann 3rd"]

    def test_nothing_is_nobody(self):
        assert read_roster(" \n\t\n") == []

    def test_two_people_of_one_name_stay_two(self):
        assert read_roster("Ann\nAnn") == ["Ann", "Ann"]


class TestSignInName:
    @pytest.mark.parametrize(
        ("name", "made"),
        [
            ("Perpetua Lindqvale", "perpetua-lindqvale"),
            ("Zoë  O'Dell", "zoe-o-dell"),
            ("José María Ñúñez", "jose-maria-nunez"),
            ("李小龙", "student"),
            ("<script>", "script"),
            ("--", "student"),
            ("x" * 80, "x" * 30),
        ],
    )
    def test_made_from_a_name(self, name, made):
        assert sign_in_name(name, ()) == made

    def test_a_taken_one_gets_a_number(self):
        taken = {"ann", "ann-2"}

        assert sign_in_name("Ann", taken) == "ann-3"


class TestFirstPassword:
    def test_easy_to_type_and_hard_to_guess(self):
        made = {first_password() for _ in range(200)}

        assert len(made) == 200
        assert all(
            re.fullmatch(r"[a-hjkmnp-z2-9]{4}(-[a-hjkmnp-z2-9]{4}){2}", one)
            for one in made
        )
