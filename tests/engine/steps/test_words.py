"""Names in sentences."""

import pytest

from projects.engine.steps.words import free_key, in_a_row, in_text, part_names
from tests.engine.builds import data, part, plan


class TestInARow:
    @pytest.mark.parametrize(
        ("names", "said"),
        [
            ([], ""),
            (["seat"], "seat"),
            (["seat", "shelf"], "seat and shelf"),
            (["seat", "shelf", "back"], "seat, shelf and back"),
            (list("abcdefgh"), "a, b, c, d, e, f, g and h"),
            (list("abcdefghi"), "a, b, c, d, e, f, g and 2 more"),
        ],
    )
    def test_names(self, names, said):
        assert in_a_row(names) == said


class TestInText:
    @pytest.mark.parametrize(
        ("name", "said"),
        [("Left side", "left side"), ("MDF back", "MDF back"), ("A", "A"),
         ("3/4 in oak", "3/4 in oak"), ("Élan", "élan")],
    )  # fmt: skip
    def test_only_a_capital_before_small_letters_becomes_small(self, name, said):
        assert in_text(name) == said


class TestPartNames:
    @pytest.mark.parametrize(
        ("one", "other", "said"),
        [
            ("Left side", "Right side", "left and right side"),
            ("Left front leg", "Right front leg", "left and right front leg"),
            ("Side left", "Side right", "side left and right"),
            ("Cheek", "Jowl", "cheek and jowl"),
            ("Left side", "Other side panel", "left side and other side panel"),
        ],
    )
    def test_the_two_of_a_pair_are_said_as_one(self, one, other, said):
        of = data([
            part("a", "zyx", pair="b") | {"name": one},
            part("b", "zyx", pair="a") | {"name": other},
        ])  # fmt: skip

        assert part_names(plan(of), ["b", "a"][::-1]) == said
        assert part_names(plan(of), ["a"]) == in_text(one)


class TestFreeKey:
    def test_a_key_that_is_taken_gets_a_number(self):
        assert free_key("rip", []) == "rip"
        assert free_key("rip", ["rip"]) == "rip_2"
        assert free_key("rip", ["rip", "rip_2"]) == "rip_3"

    def test_a_long_key_is_cut(self):
        long = "x" * 50

        assert len(free_key(long, [])) == 40
        assert len(free_key(long, ["x" * 40])) <= 40
