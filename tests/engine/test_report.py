"""The result as data, shaped as the plan file's page says, and as text."""

import json
from fractions import Fraction

import pytest

from projects.engine.report import as_data, as_text, coefficient_text
from tests.engine.builds import boot_bench, distance, solved

READINGS = {
    "stock": {"board": ["0.742", "0.744", "0.741"]},
    "parts": {"shelf": {"thickness": ["0.738"]}},
}
DRY = {"distances": {"opening": "34 17/32"}, "cut": {"shelf.length": "35 1/4"}}


class TestAsData:
    def test_a_size(self):
        shelf = as_data(solved(boot_bench()))["parts"]["shelf"]

        assert shelf["length"] == {
            "mm": "895.3500", "in": "35.25000", "tape": "35 1/4", "off": "exact",
            "because": shelf["length"]["because"], "waits_for": ["opening"],
        }  # fmt: skip
        assert set(shelf) == {"length", "width", "thickness"}
        assert shelf["thickness"] == {
            "mm": "19.0500", "in": "0.75000", "tape": "3/4", "off": "exact",
            "because": [["+1", "Shelf thickness", "3/4 in"]],
        }  # fmt: skip

    def test_rounded_half_to_even_and_off_the_mark(self):
        side = as_data(solved(boot_bench(), READINGS))["parts"]["left_side"][
            "thickness"
        ]

        # 2.227 / 3 in = 0.742333… in = 18.855266… mm
        assert (side["in"], side["mm"]) == ("0.74233", "18.8553")
        assert (side["tape"], side["off"]) == ("3/4", "scant")
        assert side["because"] == [["+1", "Left side thickness", "2227/3000 in"]]

    def test_joints(self):
        joints = as_data(solved(boot_bench(), READINGS))["joints"]

        assert joints["shelf_left"] == {
            "width": {"mm": "18.8722", "in": "0.74300"},
            "depth": {"mm": "9.5250", "in": "0.37500"},
        }
        assert list(joints) == ["shelf_left", "shelf_right"]

    def test_a_joint_without_a_slot_has_none(self):
        of = boot_bench()
        of["joints"][0] = {"key": "j", "kind": "butt", "guest": "shelf.left",
                           "host": "left_side.right"}  # fmt: skip

        assert as_data(solved(of))["joints"]["j"] == {"width": None, "depth": None}

    def test_distances_and_what_gives(self):
        result = as_data(solved(boot_bench(), READINGS | DRY))["distances"]

        # 34.53125 + 2 × 0.742333… = 36.0159166…
        assert result["overall_width"] == {
            "mm": "914.8043", "in": "36.01592",
            "wanted": "36.00000", "gives": "0.01592",
        }  # fmt: skip
        assert result["shelf_height"]["gives"] == "0.00000"
        assert result["opening"]["in"] == "34.53125"
        assert (result["opening"]["wanted"], result["opening"]["gives"]) == (None, None)

    def test_in_doubt(self):
        (doubt,) = as_data(solved(boot_bench(), READINGS | DRY))["in_doubt"]

        # 34.53125 + 0.375 + 0.742333… / 2 = 35.2774166…
        assert doubt["reading"] == "shelf.length"
        assert doubt["read"] == "35.25 in"
        assert doubt["comes_out"]["in"] == "35.27742"
        assert doubt["difference"]["in"] == "-0.02742"
        assert set(doubt["disagrees_with"]) == {
            "Opening, measured", "Right side thickness",
        }  # fmt: skip
        assert doubt["agrees"] is True

    def test_waiting(self):
        assert as_data(solved(boot_bench()))["waiting_for"] == ["opening"]
        assert as_data(solved(boot_bench(), DRY))["waiting_for"] == []

    def test_the_whole_is_plain_json(self):
        result = as_data(solved(boot_bench(), READINGS | DRY))

        assert json.loads(json.dumps(result)) == result
        assert list(result) == [
            "parts", "joints", "distances", "in_doubt", "waiting_for",
        ]  # fmt: skip


class TestAsText:
    def test_names_every_part_with_its_sizes(self):
        lines = as_text(solved(boot_bench(), READINGS)).splitlines()
        cells = {line.split()[0]: line.split() for line in lines if line}

        assert cells["left_side"][:3] == ["left_side", "18", "14"]
        assert "waiting for: opening" in lines
        assert cells["shelf_left"][-2:] == ["0.74300", "0.37500"]

    def test_says_what_is_in_doubt(self):
        text = as_text(solved(boot_bench(), READINGS | DRY))

        assert "agrees within a mark: shelf.length read 35.25000 in" in text
        assert "waiting for" not in text

    def test_a_distance_below_0_has_its_sign(self):
        """From the right face of a side to its left one: −3/4, not −1 1/4."""
        of = boot_bench()
        of["distances"].append(distance("back", "left_side.right", "left_side.left"))
        of["distances"].append(distance("more", "shelf.right", "left_side.right"))
        lines = {line.split("  ")[0]: line for line in as_text(solved(of)).splitlines()}

        assert "-3/4" in lines["back"].replace("−", "-")
        assert "-34 7/8" in lines["more"].replace("−", "-")


@pytest.mark.parametrize(
    ("coefficient", "text"),
    [("1", "+1"), ("-1", "-1"), ("1/2", "+1/2"), ("-3/2", "-3/2")],
)
def test_coefficients_have_their_sign(coefficient, text):
    assert coefficient_text(Fraction(coefficient)) == text
