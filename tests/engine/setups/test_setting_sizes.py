"""Settings of sizes, and the order of settings."""

from fractions import Fraction

import pytest

from projects.engine.setups.settings import step_settings
from tests.engine.builds import (
    data,
    inches,
    joint,
    part,
    size,
    solved,
)
from tests.engine.setups.setting_builds import (
    case,
    numbers,
    only,
    settings,
    step,
    where,
)

READINGS = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3


class TestSizes:
    def sizes(self, machine, parts, *, at=None, readings=None, **more):
        solution = solved(case(), readings)
        of = step(at or machine, stage="mill", parts=parts, **more)
        return step_settings(solution, of, machine)

    def test_parts_of_one_width_share_a_fence(self):
        setting = only(self.sizes("table_saw", ("left_side", "right_side", "shelf")))

        assert where(setting) == ("rip", "fence", "near")
        assert setting.stop_mm == inches(14)
        assert setting.count == 3

    def test_lengths_at_the_mitre_saw_the_shortest_first(self):
        found = self.sizes("mitre_saw", ("shelf", "left_side", "right_side"))

        assert [where(s) for s in found] == [("crosscut", "stop", "near")] * 2
        assert [[p.part for p in s.pieces] for s in found] == [
            ["left_side", "right_side"], ["shelf"],
        ]  # fmt: skip

    def test_the_length_follows_at_another_machine(self):
        found = self.sizes("table_saw", ("left_side",), at="mitre_saw")

        assert [s.kind for s in found] == ["crosscut"]

    def test_a_part_that_waits_has_no_number_yet(self):
        setting = only(self.sizes("mitre_saw", ("shelf",)))

        assert setting.waits == ("opening",)
        assert (setting.stop_mm, setting.quantity("stop").mm) == (None, None)

    def test_after_the_dry_fit_it_has(self):
        """34 1/2 between the sides and twice 3/8 in them."""
        read = {"distances": {"opening": "34 1/2"}}
        setting = only(self.sizes("mitre_saw", ("shelf",), readings=read))

        assert setting.waits == ()
        assert setting.stop_mm == inches("141/4")

    def test_a_part_in_doubt_is_flagged(self):
        read = {
            "distances": {"opening": "34 1/2"},
            "cut": {"shelf.length": "30"},
        }
        setting = only(self.sizes("mitre_saw", ("shelf",), readings=read))

        assert setting.in_doubt
        assert setting.pieces[0].in_doubt

    def test_planed_to_what_the_plan_wants(self):
        setting = only(self.sizes("planer", (), readings=READINGS))

        assert numbers(setting) == {"height": Fraction(3, 4)}
        assert setting.count == 3

    def test_only_the_parts_named_are_planed(self):
        assert only(self.sizes("planer", ("shelf",))).count == 1

    def test_only_the_stock_named_is_planed(self):
        of = case()
        of["stock"].append({**of["stock"][0], "key": "thin", "thickness": "1/2"})
        of["parts"][2]["stock"] = "thin"
        solution = solved(of)
        by_key = step("planer", stage="mill", key="plane_thin")
        by_measure = step("planer", stage="mill", measures=("stock:board",))

        assert [s.height_mm for s in step_settings(solution, by_key, "planer")] == [
            inches("1/2")
        ]
        assert [s.count for s in step_settings(solution, by_measure, "planer")] == [2]

    def test_sheet_parts_are_cut_both_ways(self):
        of = case()
        of["stock"][0]["kind"] = "plywood"
        found = step_settings(
            solved(of), step("table_saw", stage="mill", parts=("left_side",)),
            "table_saw",
        )  # fmt: skip

        assert [s.kind for s in found] == ["rip", "crosscut"]

    def test_an_author_without_a_mitre_saw_cuts_both_in_one_step(self):
        of = case()
        of["steps"] = [{"key": "saw", "title": "Saw", "stage": "mill",
                        "machine": "table_saw", "parts": ["left_side"]}]  # fmt: skip
        solution = solved(of)
        [saw] = solution.plan.steps

        assert [s.kind for s in step_settings(solution, saw, "table_saw")] == [
            "rip", "crosscut",
        ]  # fmt: skip

    @pytest.mark.parametrize("stage", ["dry_fit", "sanding", "assembly", "shaping"])
    def test_stages_that_cut_no_sizes_set_nothing(self, stage):
        of = step("hand_tools", stage=stage, parts=("shelf",))

        assert step_settings(solved(case()), of, "hand_tools") == ()


class TestOrder:
    def test_one_stop_stays_for_all_that_share_it(self):
        """Two tenons of one length and two of another: by length, then by height."""
        of = data(
            [part("stile", "zxy"), part("one", "xzy"), part("two", "xzy")],
            joints=[
                joint(key, "tenon", f"{key}.left", "stile.right", depth=depth,
                      tenon={"thickness": thickness, "edge_shoulder": "3/8"})
                for key, depth, thickness in (
                    ("one", "1", "1/4"), ("two", "3/4", "3/8"),
                )
            ],
            distances=[
                size("stile", "length", "zxy", "30"),
                size("stile", "width", "zxy", "2"),
                size("one", "length", "xzy", "20"), size("one", "width", "xzy", "4"),
                size("two", "length", "xzy", "20"), size("two", "width", "xzy", "4"),
            ],
            flush=[["stile.front", "one.front", "two.front"],
                   ["stile.bottom", "one.bottom"], ["stile.top", "two.top"]],
        )  # fmt: skip
        found = settings(solved(of), "table_saw", "one", "two", parts=("one", "two"))
        shoulders = [s for s in found if s.kind == "shoulder"]

        assert [numbers(s)["stop"] for s in shoulders] == [
            Fraction(3, 4), Fraction(3, 4), 1, 1,
        ]  # fmt: skip
        assert [numbers(s)["height"] for s in shoulders] == [
            Fraction(3, 16), Fraction(3, 8), Fraction(1, 4), Fraction(3, 8),
        ]  # fmt: skip

    def test_what_waits_comes_last(self):
        solution = solved(case())
        parts = ("shelf", "left_side")
        found = step_settings(
            solution, step("mitre_saw", stage="mill", parts=parts), "mitre_saw"
        )

        assert [bool(s.waits) for s in found] == [False, True]

    def test_sides_of_their_own_thickness_get_a_depth_each(self):
        """Half of 0.750 and half of 0.740: one stop, two heights."""
        of = case(depth={"of_thickness": "1/2"})
        read = {"parts": {"left_side": {"thickness": ["0.740"]}}}
        found = settings(solved(of, read), "table_saw", "shelf_left", "shelf_right")

        assert [numbers(s)["height"] for s in found] == [
            Fraction("0.370"), Fraction("0.375"),
        ]  # fmt: skip
        assert {s.stop_mm for s in found} == {inches(6)}
        assert {p.mirrors for s in found for p in s.pieces} == {
            "left_side", "right_side",
        }  # fmt: skip
