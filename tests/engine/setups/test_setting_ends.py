"""Settings of tenons, laps and holes, worked by hand."""

from fractions import Fraction

import pytest

from tests.engine.builds import (
    data,
    distance,
    inches,
    joint,
    part,
    size,
    solved,
)
from tests.engine.setups.setting_builds import (
    framed,
    numbers,
    only,
    settings,
    where,
)

READINGS = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3


TENON = {
    "depth": "1",
    "clearance": "0.005",
    "tenon": {"thickness": "1/4", "edge_shoulder": "1/2"},
}


class TestTenon:
    def test_mortise(self):
        """The tenon lies in the middle of 3/4: (3/4 − 1/4) / 2 = 1/4 from the front.

        0.255 wide, 1 + 1/16 deep, 4 − 2 × 1/2 long, 1/2 up from the bottom.
        """
        solution = framed("tenon", **TENON)
        setting = only(settings(solution, "mortiser", "j", parts=("stile",)))
        [piece] = setting.pieces

        assert where(setting) == ("mortise", "fence", "near")
        assert numbers(setting) == {
            "stop": Fraction(1, 4),
            "width": Fraction("0.255"),
            "height": Fraction(17, 16),
            "start": Fraction(1, 2),
            "length": 3,
        }
        assert (piece.against, piece.start_from) == (("front",), "bottom")
        assert (piece.worked, piece.down) == (("right",), ("left",))

    def test_a_mortise_from_the_far_face_gets_the_clearance_off(self):
        """Told from the back the near side is 0.005 nearer: 0.245."""
        of = framed("tenon", **TENON)
        setting = only(settings(of, "mortiser", "j", parts=("stile",)))
        width = setting.width_mm

        assert inches("3/4") - setting.stop_mm - width == inches("0.245")

    def test_a_through_mortise_is_as_deep_as_its_host(self):
        solution = framed("tenon", **{**TENON, "depth": "2"})
        setting = only(settings(solution, "mortiser", "j", parts=("stile",)))

        assert setting.height_mm == inches(2)

    def test_shoulders_and_cheeks(self):
        """Shoulders 1 in from the end, (3/4 − 1/4) / 2 = 1/4 and 1/2 high.

        Between fence and blade stays 1/4 + 1/4 of the thickness, 4 − 1/2 of the
        width; the blade stands 1 in high.
        """
        solution = framed("tenon", **TENON)
        found = settings(solution, "table_saw", "j", parts=("rail",))

        assert [where(s) for s in found] == [
            ("shoulder", "stop", "far"), ("shoulder", "stop", "far"),
            ("cheek", "fence", "near"), ("cheek", "fence", "near"),
        ]  # fmt: skip
        assert [numbers(s) for s in found] == [
            {"stop": 1, "height": Fraction(1, 4)},
            {"stop": 1, "height": Fraction(1, 2)},
            {"stop": Fraction(1, 2), "height": 1},
            {"stop": Fraction(7, 2), "height": 1},
        ]
        assert [s.pieces[0].down for s in found] == [
            ("front", "back"), ("bottom", "top"), ("left",), ("left",),
        ]  # fmt: skip
        assert [s.pieces[0].against for s in found] == [
            ("left",), ("left",), ("front", "back"), ("bottom", "top"),
        ]  # fmt: skip

    def test_a_share_of_the_thickness(self):
        """A third of the mean stays, a third of the thickest is mortised."""
        of = {"depth": "1", "tenon": {"thickness": {"of_thickness": "1/3"}}}
        solution = framed("tenon", readings=READINGS, **of)
        shoulder, cheek = settings(solution, "table_saw", "j", parts=("rail",))
        mortise = only(settings(solution, "mortiser", "j", parts=("stile",)))

        assert shoulder.height_mm == inches(MEAN) / 3
        assert cheek.stop_mm == inches(MEAN) * 2 / 3
        assert mortise.width_mm == inches("0.744") / 3

    def test_a_tenon_without_shoulders_needs_no_cut(self):
        solution = framed("tenon", depth="1")

        assert settings(solution, "table_saw", "j", parts=("rail",)) == ()


class TestHalfLap:
    def test_at_the_end_of_the_guest_and_in_the_host(self):
        """The rail's lap is as long as the stile is wide, 2 in; both half of 3/4 deep.

        The stile's lies at its end, as wide as the rail with 0.005.
        """
        solution = framed("half_lap", clearance="0.005")
        rail, stile = settings(solution, "table_saw", "j")

        assert where(rail) == where(stile) == ("lap", "stop", "far")
        assert numbers(rail) == {"stop": 2, "height": Fraction(3, 8)}
        assert numbers(stile) == {"stop": Fraction("4.005"), "height": Fraction(3, 8)}
        assert rail.pieces[0].either

    def test_in_the_middle_of_the_host(self):
        """10 in up, as wide as the rail and 0.005."""
        of = data(
            [part("stile", "zxy"), part("rail", "xzy")],
            joints=[joint("j", "half_lap", "rail.left", "stile.right",
                          clearance="0.005")],
            distances=[
                size("stile", "length", "zxy", "30"),
                size("stile", "width", "zxy", "2"),
                size("rail", "length", "xzy", "20"), size("rail", "width", "xzy", "4"),
                distance("up", "stile.bottom", "rail.bottom", "10"),
            ],
        )  # fmt: skip
        setting = only(settings(solved(of), "router", "j", parts=("stile",)))

        assert where(setting) == ("lap", "stop", "near")
        assert numbers(setting) == {
            "stop": 10,
            "width": Fraction("4.005"),
            "height": Fraction(3, 8),
        }

    def test_of_half_the_host_only_ends_inside_it(self):
        solution = framed("half_lap", depth={"of_thickness": "1/2"})
        [setting] = settings(solution, "router", "j", parts=("stile",))
        [end] = setting.pieces[0].ends

        assert (end.edge, end.mm) == ("left", inches(1))


class TestDowel:
    def test_holes_in_both(self):
        """3/8 wide, half of 2 in and 1/16 deep; two in each face."""
        solution = framed(
            "dowel", dowels={"diameter": "3/8", "length": "2", "count": 2}
        )
        setting = only(settings(solution, "drill_press", "j"))

        assert where(setting) == ("hole", "none", "none")
        assert numbers(setting) == {
            "width": Fraction(3, 8),
            "height": Fraction(17, 16),
        }
        assert [(p.part, p.worked, p.down, p.holes) for p in setting.pieces] == [
            ("stile", ("right",), ("left",), 2), ("rail", ("left",), ("right",), 2),
        ]  # fmt: skip

    def test_a_plan_that_names_no_dowels_sets_nothing(self):
        assert settings(framed("dowel"), "drill_press", "j") == ()


class TestNotFromAWideFace:
    def test_a_lap_across_the_thickness_is_left_to_the_drawing(self):
        """The rail's wide face meets the stile's: neither is lapped from there."""
        of = data(
            [part("stile", "zyx"), part("rail", "zyx")],
            joints=[joint("j", "half_lap", "rail.left", "stile.right", depth="3/8")],
            distances=[
                size("stile", "length", "zyx", "30"),
                size("stile", "width", "zyx", "2"),
                size("rail", "length", "zyx", "20"),
                size("rail", "width", "zyx", "4"),
            ],
        )

        assert settings(solved(of), "table_saw", "j") == ()

    @pytest.mark.parametrize(
        ("kind", "more"),
        [("half_lap", {}), ("tenon", {"depth": "1", "tenon": {"thickness": "1/4"}})],
    )
    def test_a_guest_past_its_host_is_no_cut_in_it(self, kind, more):
        of = data(
            [part("stile", "zxy"), part("rail", "xzy")],
            joints=[joint("j", kind, "rail.left", "stile.right", **more)],
            distances=[
                size("stile", "length", "zxy", "30"),
                size("stile", "width", "zxy", "2"),
                size("rail", "length", "xzy", "20"),
                size("rail", "width", "xzy", "4"),
                distance("up", "stile.bottom", "rail.bottom", "40"),
                distance("back", "stile.front", "rail.front", "10"),
            ],
        )
        machine = "router"

        assert settings(solved(of), machine, "j", parts=("stile",)) == ()
