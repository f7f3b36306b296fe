"""Wood held across its grain, and panels without room, by hand.

Yellow-poplar sawn flat moves 0.00289 of its width for each per cent: from 8 to 12 %
0.01156 of it. 1/16 in is then what 5.4066 in move, 1/32 in what 2.7033 in do.
"""

from fractions import Fraction

import pytest

from projects.engine.checks import Limit, ShopLimits
from tests.engine.builds import IN, distance, joint, part, size
from tests.engine.checks.pieces import amounts, case, flush, found, frame, made

SWING = Fraction("0.00289") * 4


def breadboard(*, width, kind="tenon", stock="board", species="yellow-poplar", **more):
    """Return a top, grain left to right, with a board across its right end."""
    depth = {} if kind in ("butt", "dowel") else {"depth": "1"}
    return made(
        [part("top", "xyz"), part("end", "yxz", stock=stock)],
        joints=[joint("j", kind, "top.right", "end.left", **depth, **more)],
        distances=[size("top", "length", "xyz", "30"),
                   size("top", "width", "xyz", width),
                   size("end", "width", "yxz", "3")],
        flush=flush("top", "end", "y"),
        species=species,
    )  # fmt: skip


class TestAlongAJoint:
    def test_a_narrow_top_moves_little(self):
        """5 3/8 × 0.01156 = 0.0621 in, less than 1/16."""
        assert not found(breadboard(width="5 3/8"), "across_grain")

    def test_a_wider_one_is_held(self):
        """5 7/16 × 0.01156 = 0.0629 in."""
        (finding,) = found(breadboard(width="5 7/16"), "across_grain")

        assert finding.key == "across_grain/joint:j+part:top"
        assert finding.level == "warning"
        assert amounts(finding)["movement"] == SWING * Fraction("5.4375")
        assert str(finding.what) == (
            "Top is held across its grain along 5 7/16 in of End"
        )
        assert (
            "From 8 to 12 % moisture, sawn flat, 5 7/16 in of Top changes by 0.063"
            in (str(finding.why))
        )
        assert "Table 13-5 (from memory" in finding.source
        assert [str(w) for w in finding.where] == ["joint:j", "part:top", "part:end"]

    def test_a_tenon_holds_only_its_own_width(self):
        """6 3/8 in less 1/2 in at each edge is 5 3/8; 6 7/16 less that is 5 7/16."""
        tenon = {"thickness": "1/4", "edge_shoulder": "1/2"}

        assert not found(breadboard(width="6 3/8", tenon=tenon), "across_grain")
        assert found(breadboard(width="6 7/16", tenon=tenon), "across_grain")

    @pytest.mark.parametrize("kind", ["dado", "rabbet", "dowel", "half_lap"])
    def test_other_joints_that_hold(self, kind):
        assert len(found(breadboard(width="12", kind=kind), "across_grain")) == 1

    def test_a_groove_lets_it_move(self):
        assert not found(breadboard(width="12", kind="groove"), "across_grain")

    def test_parts_that_only_touch_get_advice(self):
        (finding,) = found(breadboard(width="12", kind="butt"), "across_grain")

        assert finding.level == "advice"
        assert "If it is glued or screwed tight" in str(finding.why)

    def test_plywood_keeps_still_both_ways(self):
        (finding,) = found(breadboard(width="12", stock="ply"), "across_grain")

        assert amounts(finding)["movement"] == SWING * 12

    def test_sides_and_a_shelf_move_together(self):
        """Grain up in the sides, from side to side in the shelf: no harm at 20 in."""
        assert not found(case(width="20"), "across_grain")

    def test_a_shelf_with_its_grain_the_wrong_way(self):
        """Its length runs beside the width of both sides: they are held, 20 in each."""
        held = found(case(shelf=part("shelf", "yxz"), width="20"), "across_grain")
        along = [f for f in held if f.key.startswith("across_grain/joint:shelf_left+")]

        assert amounts(along[0])["held across the grain"] == 20
        assert along[0].key.endswith("part:left")

    def test_a_damper_shop_allows_less(self):
        """From 6 to 14 %: 4 in × 0.00289 × 8 = 0.0925 in."""
        shop = ShopLimits(
            low_pct=Limit(value=Fraction(6)), high_pct=Limit(value=Fraction(14))
        )

        assert not found(breadboard(width="4"), "across_grain")
        (finding,) = found(breadboard(width="4"), "across_grain", shop)
        assert amounts(finding)["movement"] == 2 * SWING * 4

    def test_a_part_that_lies_beyond_the_other_is_not_held(self):
        """A rail 12 in wide butted to a post, but placed below its foot."""
        of = made(
            [part("post", "zyx"), part("rail", "xzy")],
            joints=[joint("j", "butt", "rail.left", "post.right")],
            distances=[size("post", "length", "zyx", "30"),
                       size("post", "width", "zyx", "3"),
                       size("rail", "length", "xzy", "20"),
                       distance("below", "rail.top", "post.bottom", "2"),
                       size("rail", "width", "xzy", "12")],
            flush=[["post.front", "rail.front"]],
        )  # fmt: skip

        assert not found(of, "across_grain")

    def test_where_nothing_fixes_the_place_the_most_is_taken(self):
        of = made(
            [part("post", "zyx"), part("rail", "xzy")],
            joints=[joint("j", "dowel", "rail.left", "post.right")],
            distances=[size("post", "length", "zyx", "30"),
                       size("post", "width", "zyx", "3"),
                       size("rail", "length", "xzy", "20"),
                       size("rail", "width", "xzy", "12")],
        )  # fmt: skip
        (finding,) = found(of, "across_grain")

        assert amounts(finding)["held across the grain"] == 12


class TestUnknownSpecies:
    def test_it_says_that_it_cannot_tell_once_a_stock(self):
        of = breadboard(width="12", species="mystery wood")
        (finding,) = found(of, "across_grain")

        assert finding.level == "unknown"
        assert finding.key == "across_grain/stock:board"
        assert "“mystery wood”" in str(finding.why)
        assert str(finding.what).startswith("Poplar: nothing here says how much")

    def test_it_is_silent_where_no_species_would_matter(self):
        """Beech moves most, 0.00431: 3 5/8 in × 0.01724 = 0.06249, less than 1/16."""
        narrow = breadboard(width="3 5/8", species="oak")
        wider = breadboard(width="3 41/64", species="oak")

        assert not found(narrow, "across_grain")
        assert len(found(wider, "across_grain")) == 1

    def test_a_plan_may_name_none(self):
        of = breadboard(width="12", species=None)
        (finding,) = found(of, "across_grain")

        assert str(finding.why).startswith("The plan gives no species; name one")

    def test_a_panel_too(self):
        (finding,) = found(frame(width="12", species="oak"), "panel_room")

        assert finding.level == "unknown"
        assert finding.key == "panel_room/stock:board"


class TestBetweenTwo:
    def test_dadoed_at_both_edges(self):
        """12 in × 0.01156 = 0.13872 in."""
        (finding,) = found(frame(width="12", kind="dado"), "across_grain")

        assert finding.key == (
            "across_grain/joint:panel_left+joint:panel_right+part:panel"
        )
        assert finding.level == "warning"
        assert amounts(finding)["movement"] == SWING * 12
        assert str(finding.what) == (
            "Panel is held across its grain between Left and Right, which Rail keeps "
            "apart"
        )

    @pytest.mark.parametrize(("width", "count"), [("5 3/8", 0), ("5 7/16", 1)])
    def test_the_limit(self, width, count):
        of = frame(width=width, kind="rabbet")

        assert len(found(of, "across_grain")) == count

    def test_parts_that_only_touch_get_advice(self):
        (finding,) = found(frame(width="12", kind="butt"), "across_grain")

        assert finding.level == "advice"

    def test_nothing_keeps_them_apart(self):
        of = frame(width="12", kind="dado", joined=False)

        assert not found(of, "across_grain")

    def test_a_keeper_that_moves_as_well_keeps_nothing_apart(self):
        """The rail's grain upright too: its width lies between the stiles."""
        of = frame(width="12", kind="dado", keeper=part("rail", "zxy"))

        assert not [f for f in found(of, "across_grain") if "panel" in f.key]

    def test_a_panel_of_plywood_may_be_held(self):
        ply = part("panel", "zxy", stock="ply")

        assert not found(frame(width="12", kind="dado", panel=ply), "across_grain")


class TestPanelRoom:
    def test_a_wide_panel_on_the_bottom_of_its_grooves(self):
        """12 in × 0.01156 = 0.13872 in, and no room."""
        (finding,) = found(frame(width="12"), "panel_room")

        assert finding.key == (
            "panel_room/joint:panel_left+joint:panel_right+part:panel"
        )
        assert amounts(finding) == {
            "movement": SWING * 12, "room": 0, "allowed": Fraction(1, 32),
        }  # fmt: skip
        assert str(finding.what) == (
            "Panel can swell 0.139 in between Left and Right, but has 0 in of room in "
            "its grooves"
        )
        assert "by 0.139 in in all" in str(finding.why)

    @pytest.mark.parametrize(("width", "count"), [("2 11/16", 0), ("2 23/32", 1)])
    def test_the_limit(self, width, count):
        """2 11/16 × 0.01156 = 0.0311 in; 2 23/32 × 0.01156 = 0.0314 in."""
        assert len(found(frame(width=width), "panel_room")) == count

    def test_a_shop_may_allow_more(self):
        """0.139 in is less than 5/32 in (0.156)."""
        shop = ShopLimits(tight_mm=Limit(value=IN * 5 / 32))

        assert not found(frame(width="12"), "panel_room", shop)

    def test_one_edge_in_a_groove_and_one_held(self):
        (finding,) = found(frame(width="12", kinds=("groove", "dado")), "panel_room")

        assert amounts(finding)["room"] == 0

    def test_grain_across_the_opening_needs_no_room(self):
        of = frame(width="12", panel=part("panel", "xzy"))

        assert not found(of, "panel_room")

    def test_plywood_needs_no_room(self):
        of = frame(width="12", panel=part("panel", "zxy", stock="ply"))

        assert not found(of, "panel_room")

    def test_a_panel_that_nothing_boxes_in(self):
        assert not found(frame(width="12", joined=False), "panel_room")

    def test_a_dado_at_both_edges_is_another_check(self):
        assert not found(frame(width="12", kind="dado"), "panel_room")
