"""The small drawings of settings."""

import json
from pathlib import Path

import pytest

from projects.engine.drawing import DrawingError, svg
from projects.engine.drawing.laid_part import LaidPart
from projects.engine.drawing.setting_view import setting_view
from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Readings
from projects.engine.setups.setting_drawing import setting_drawing
from projects.engine.setups.setting_words import piece_words
from projects.engine.setups.settings import step_settings
from projects.engine.steps import propose
from projects.engine.units import exact_text
from tests.engine.builds import inches, plan, solved
from tests.engine.drawing.test_pictorial import check_legible
from tests.engine.setups.setting_builds import case, framed, settings, step

PLANS = Path("projects/demo/plans")
DEMO = ("hall_boot_bench", "step_stool", "tool_tray")


def show(mm):
    return exact_text(mm, unit="in").removesuffix(" in")


def drawn(solution, machine, *joints, **more):
    return [
        setting_drawing(solution, setting, show=show)
        for setting in settings(solution, machine, *joints, **more)
    ]


def words(picture, kind):
    return [text.words for text in picture.texts if text.kind == kind]


class TestPair:
    def picture(self, machine="router_table"):
        of = case(stops=[{"at": "front", "by": "1/2"}])
        parts = ("left_side", "right_side")
        joints = ("shelf_left", "shelf_right")
        [picture] = drawn(solved(of), machine, *joints, parts=parts)
        return picture

    def test_shows_both_as_mirror_images_at_one_stop(self):
        left, left_slot, right, right_slot = self.picture().shapes

        def places(part, slot):
            """Return the slot's place from the stop, and from the lower edge."""
            us, vs = zip(*part.corners, strict=True)
            cut_us, cut_vs = zip(*slot.corners, strict=True)
            across = max(us) - max(cut_us), max(us) - min(cut_us)
            return across, (min(cut_vs) - min(vs), max(vs) - max(cut_vs))

        across, (below, above) = places(left, left_slot)
        # not to scale: what is small has room
        assert 0 < across[0] < across[1]
        assert below == pytest.approx(0)
        assert above > 0
        assert places(right, right_slot) == (
            pytest.approx(across), pytest.approx((above, below)),
        )  # fmt: skip

    def test_says_what_is_at_the_stop_and_what_goes_in_first(self):
        picture = self.picture()

        assert words(picture, "end") == ["stop: bottom end"] * 2
        lines = words(picture, "legend")
        assert {"↑ front edge first, stop", "↑ back edge first, stop"} <= set(lines)
        assert lines.count("right of the bit") == 2

    def test_names_faces_as_the_words_do(self):
        of = solved(case())
        joints = ("shelf_left", "shelf_right")
        [picture] = drawn(of, "table_saw", *joints)
        [setting] = settings(of, "table_saw", *joints)
        said = [
            one.text(show=show)
            for piece in setting.pieces
            for one in piece_words(of.plan, setting, piece)
        ]
        legend = " ".join(words(picture, "legend"))

        assert all("inside face down" in line for line in said)
        assert legend.count("inside face") == 2
        assert "right face" not in legend
        assert "left face" not in legend

    def test_sizes_along_the_stop_stand_once(self):
        sizes = words(self.picture(), "size")

        assert sizes.count("6") == 1
        assert sizes.count("0.755") == 1
        assert sizes.count("1/2") == 2

    def test_a_cut_from_below_is_dashed_one_from_above_is_not(self):
        below, above = self.picture(), self.picture("router")

        assert below.hidden
        assert not above.hidden

    def test_is_described_in_words(self):
        assert "bottom end to the stop, front edge first" in self.picture().description


class TestKinds:
    def test_a_cheek_stands_at_the_fence(self):
        solution = framed("tenon", depth="1", tenon={"thickness": "1/4"})
        _, cheek = drawn(solution, "table_saw", "j", parts=("rail",))

        assert set(words(cheek, "size")) == {"1/2", "1"}
        assert words(cheek, "end") == ["fence: front face"]
        assert words(cheek, "legend") == ["Rail, left end down"]

    def test_a_part_long_the_way_it_is_fed_is_turned_with_its_fence(self):
        solution = framed("rabbet", depth="3/8")
        [picture] = drawn(solution, "table_saw", "j")

        assert any(line.startswith("← ") for line in words(picture, "legend"))

    def test_by_hand_nothing_stands_at_the_part(self):
        [picture] = drawn(solved(case()), "hand_tools", "shelf_left")

        assert words(picture, "end") == ["bottom end"]

    def test_what_waits_is_not_drawn(self):
        solution = solved(case())
        of = step("mitre_saw", stage="mill", parts=("shelf",))
        [setting] = step_settings(solution, of, "mitre_saw")

        assert setting_drawing(solution, setting, show=show) is None

    def test_what_has_no_place_is_not_drawn(self):
        of = case()
        of["distances"] = [d for d in of["distances"] if d["key"] != "shelf_height"]

        assert drawn(solved(of), "table_saw", "shelf_left") == [None]


@pytest.mark.parametrize("name", DEMO)
@pytest.mark.parametrize(("width_mm", "text_mm"), [(95, 3.4), (80, 3.9)])
def test_every_setting_of_the_demo_plans_is_legible(name, width_mm, text_mm):
    read = plan(json.loads((PLANS / f"{name}.json").read_text("utf-8")))
    solution = solve(read, Readings())
    for of in propose(read):
        for machine in (of.machine, *(way.machine for way in of.other_ways)):
            for setting in step_settings(solution, of, machine):
                picture = setting_drawing(
                    solution, setting, show=show, width_mm=width_mm, text_mm=text_mm
                )
                if picture is None:
                    assert setting.waits
                    continue
                check_legible(picture)
                assert svg(picture).startswith("<svg")


class TestSettingView:
    def test_without_a_part_there_is_nothing_to_draw(self):
        with pytest.raises(DrawingError, match="no part"):
            setting_view([], caption="", description="")

    def test_a_part_without_a_size_is_refused(self):
        with pytest.raises(DrawingError, match="above 0"):
            LaidPart(key="p", title="P", across_mm=inches(0), along_mm=inches(1))
