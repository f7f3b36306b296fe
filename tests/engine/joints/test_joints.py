"""One worked example by hand for each kind of joint."""

from fractions import Fraction

import pytest

from projects.engine.errors import EngineError
from projects.engine.joints import KINDS
from tests.engine.builds import (
    boot_bench,
    data,
    distance,
    inches,
    joint,
    part,
    size,
    solved,
)

READINGS = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3


def framed(kind, *, readings=None, **more):
    """Return the cuts of a rail 4 in wide on a stile 2 in wide, both 3/4 thick.

    The rail's left end goes into the stile's right edge.
    """
    of = data(
        [part("stile", "zxy"), part("rail", "xzy")],
        joints=[joint("j", kind, "rail.left", "stile.right", **more)],
        distances=[
            size("stile", "length", "zxy", "30"), size("stile", "width", "zxy", "2"),
            size("rail", "length", "xzy", "20"), size("rail", "width", "xzy", "4"),
        ],
    )  # fmt: skip
    return solved(of, readings).cuts["j"]


def measures(listed):
    return {measure.name: measure.mm / inches(1) for measure in listed}


def test_every_kind_is_worked_here():
    assert set(KINDS) == {
        "dado", "rabbet", "groove", "butt", "tenon", "half_lap", "dowel",
    }  # fmt: skip


class TestDado:
    def test_through(self):
        """0.744 at its thickest + 0.005 wide, 3/8 deep."""
        cuts = solved(boot_bench(), READINGS).cuts["shelf_left"]

        assert cuts.width_mm == inches("0.749")
        assert cuts.depth_mm == inches("3/8")
        assert (cuts.on_host, cuts.on_guest) == ((), ())

    def test_stopped_half_an_inch_behind_the_front(self):
        of = boot_bench()
        of["joints"][0]["stops"] = [{"at": "front", "by": "1/2"}]
        cuts = solved(of).cuts["shelf_left"]

        assert cuts.depth_mm == inches("3/8")
        assert measures(cuts.on_host) == {"stops short of the front by": Fraction(1, 2)}
        assert measures(cuts.on_guest) == {"notch the front by": Fraction(1, 2)}

    @pytest.mark.parametrize(
        ("back", "notch"), [("1/8", "3/8"), ("1/2", None), ("3/4", None)]
    )
    def test_a_shelf_that_stands_back_needs_less_of_a_notch(self, back, notch):
        of = boot_bench()
        of["joints"][0]["stops"] = [{"at": "front", "by": "1/2"}]
        of["flush"][0].remove("shelf.front")
        of["distances"].append(distance("back", "left_side.front", "shelf.front", back))
        cuts = solved(of).cuts["shelf_left"]
        wanted = {"notch the front by": Fraction(notch)} if notch else {}

        assert measures(cuts.on_guest) == wanted

    @pytest.mark.parametrize("at", ["left", "top", "bottom"])
    def test_can_not_stop_at_a_face_it_does_not_run_to(self, at):
        of = boot_bench()
        of["joints"][0]["stops"] = [{"at": at, "by": "1/2"}]

        with pytest.raises(EngineError, match=rf"^joints\[0\]: .*{at}"):
            solved(of)

    def test_can_not_stop_twice_at_one_face(self):
        of = boot_bench()
        of["joints"][0]["stops"] = [{"at": "front", "by": "1/2"}] * 2

        with pytest.raises(EngineError, match=r"^joints\[0\]: "):
            solved(of)


@pytest.mark.parametrize("kind", ["rabbet", "groove"])
class TestRabbetAndGroove:
    def test_as_wide_as_the_guest_and_as_deep_as_the_plan_says(self, kind):
        cuts = framed(kind, depth="1/4", clearance="1/64", readings=READINGS)

        assert cuts.width_mm == inches("0.744") + inches("1/64")
        assert cuts.depth_mm == inches("1/4")

    def test_without_clearance_as_wide_as_the_plans_board(self, kind):
        cuts = framed(kind, depth={"of_thickness": "1/4"})

        assert cuts.width_mm == inches("3/4")
        assert cuts.depth_mm == inches("1/2")  # a quarter of the stile's 2 in

    def test_a_depth_is_needed(self, kind):
        with pytest.raises(EngineError, match="the field depth is missing"):
            framed(kind)


class TestButt:
    def test_nothing_is_cut(self):
        cuts = framed("butt")

        assert (cuts.width_mm, cuts.depth_mm) == (None, None)
        assert (cuts.on_host, cuts.on_guest) == ((), ())


class TestTenon:
    def test_a_quarter_inch_thick_with_edge_shoulders(self):
        """1 long, 1/4 thick, 4 − 2 × 1/2 wide; shoulders (3/4 − 1/4) / 2."""
        cuts = framed("tenon", depth="1", clearance="0.005",
                      tenon={"thickness": "1/4", "edge_shoulder": "1/2"})  # fmt: skip

        assert cuts.width_mm == inches("0.255")
        assert cuts.depth_mm == inches(1)
        assert measures(cuts.on_host) == {
            "mortise depth": Fraction(17, 16),
            "mortise length": 3,
        }
        assert measures(cuts.on_guest) == {
            "tenon length": 1,
            "thickness": Fraction(1, 4),
            "width": 3,
            "shoulder on each face": Fraction(1, 4),
            "shoulder on each edge": Fraction(1, 2),
        }

    def test_a_third_of_what_was_milled(self):
        """The tenon is a third of the mean, its mortise a third of the thickest."""
        cuts = framed("tenon", depth="1", tenon={"thickness": {"of_thickness": "1/3"}},
                      readings=READINGS)  # fmt: skip
        guest = measures(cuts.on_guest)

        assert guest["thickness"] == MEAN / 3
        assert guest["shoulder on each face"] == MEAN / 3
        assert guest["width"] == 4
        assert cuts.width_mm == inches("0.248")

    def test_without_a_thickness_it_is_bare_faced(self):
        guest = measures(framed("tenon", depth="1").on_guest)

        assert guest["thickness"] == Fraction(3, 4)
        assert guest["shoulder on each face"] == 0

    def test_a_mortise_is_not_deeper_than_its_host(self):
        through = measures(framed("tenon", depth="2").on_host)
        nearly = measures(framed("tenon", depth="1.97").on_host)

        assert through["mortise depth"] == nearly["mortise depth"] == 2

    @pytest.mark.parametrize(
        "tenon", [{"thickness": "0.8"}, {"edge_shoulder": "2"}, {"edge_shoulder": "3"}]
    )
    def test_one_that_leaves_nothing_is_refused(self, tenon):
        with pytest.raises(EngineError, match=r"^joint j: "):
            framed("tenon", depth="1", tenon=tenon)

    def test_an_unknown_field_of_it_is_refused(self):
        with pytest.raises(EngineError, match=r"^joints\[0\].tenon: unknown field"):
            framed("tenon", depth="1", tenon={"colour": "red"})


class TestHalfLap:
    def test_all_across_half_through_both(self):
        """As wide as the rail's 4 in, over all of the stile's 2 in."""
        cuts = framed("half_lap", clearance="1/64", readings=READINGS)

        assert cuts.width_mm == inches(4) + inches("1/64")
        assert cuts.depth_mm == inches(2)
        assert measures(cuts.on_host) == {"cut away": MEAN / 2}
        assert measures(cuts.on_guest) == {
            "lap length": 2,
            "cut away": MEAN / 2,
        }

    def test_as_deep_as_the_plan_says(self):
        assert framed("half_lap", depth="1 1/2").depth_mm == inches("1.5")


class TestDowel:
    def test_holes_half_a_dowel_and_a_sixteenth_deep(self):
        cuts = framed("dowel", dowels={"diameter": "3/8", "length": "2", "count": 3})

        assert (cuts.width_mm, cuts.depth_mm) == (None, None)
        assert measures(cuts.on_host) == measures(cuts.on_guest) == {
            "3 holes, diameter": Fraction(3, 8),
            "hole depth": Fraction(17, 16),
        }  # fmt: skip

    def test_which_dowels_need_not_be_said(self):
        assert framed("dowel").on_host == ()

    @pytest.mark.parametrize(
        "dowels", [{}, {"diameter": "3/8", "length": "2", "count": 0}, 3, []]
    )
    def test_broken_dowels_name_their_place(self, dowels):
        with pytest.raises(EngineError, match=r"joints\[0\].dowels"):
            framed("dowel", dowels=dowels)
