"""A pasted roster, the codes of join cards, PINs."""

import re

import pytest

from projects.roster import (
    is_code,
    is_easy_pin,
    new_code,
    read_code,
    read_roster,
    same_name,
    shown_code,
)


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


class TestCodes:
    def test_easy_to_type_and_hard_to_guess(self):
        made = {new_code(()) for _ in range(200)}

        assert len(made) == 200
        assert all(re.fullmatch(r"[a-hjkmnp-z2-9]{8}", one) for one in made)
        assert all(map(is_code, made))

    def test_a_code_that_is_taken_is_not_given_again(self, monkeypatch):
        drawn = iter("aaaaaaaabbbbbbbb")
        monkeypatch.setattr("secrets.choice", lambda _letters: next(drawn))

        assert new_code({"aaaaaaaa"}) == "bbbbbbbb"

    @pytest.mark.parametrize(
        "typed",
        ["km7px3qe", "KM7P-X3QE", " km7p x3qe ", "k-m-7 p-x3qe\n", "km7p\u2013x3qe"],
    )
    def test_it_is_read_however_it_was_typed(self, typed):
        assert read_code(typed) == "km7px3qe"

    @pytest.mark.parametrize("typed", ["hanne", "ann-2", "km7p-x3q", "km7p-x3qo", ""])
    def test_what_is_none_comes_back(self, typed):
        assert read_code(typed) == typed
        assert not is_code(typed)

    def test_it_is_shown_in_two_groups(self):
        assert shown_code("km7px3qe") == "km7p-x3qe"
        assert read_code(shown_code("km7px3qe")) == "km7px3qe"
        assert shown_code("hanne") == "hanne"


class TestSameName:
    @pytest.mark.parametrize("other", ["ANN", "ann", "\uff21nn"])
    def test_capitals_and_wide_letters_tell_nobody_apart(self, other):
        assert same_name(other) == same_name("Ann")

    def test_an_accent_does(self):
        assert same_name("Zoé") != same_name("Zoe")


class TestEasyPin:
    @pytest.mark.parametrize("pin", ["1111", "00000000", "1234", "45678", "9876"])
    def test_what_everybody_tries_first(self, pin):
        assert is_easy_pin(pin)

    @pytest.mark.parametrize("pin", ["1212", "1357", "2580", "9012", "1123"])
    def test_others_are_not(self, pin):
        assert not is_easy_pin(pin)
