"""Slots too deep, slots back to back, and lips too thin, by hand."""

from fractions import Fraction

import pytest

from projects.engine.checks import Limit, ShopLimits
from tests.engine.builds import IN, distance, joint, part, size
from tests.engine.checks.pieces import amounts, case, flush, found, made


def in_one_divider(
    *,
    kinds=("dado", "dado"),
    depths=("1/4", "1/4"),
    heights=("6", "6"),
    left=None,
    right=None,
    **more,
):
    """Return two shelves 10 in wide that enter one divider from its two sides."""
    shelves, sides = ("one", "two"), (("right", "left"), ("left", "right"))
    details = (left or {}, right or {})
    joints = [
        joint(f"{shelf}_in", kind, f"{shelf}.{own}", f"divider.{face}",
              depth=depth, **detail)
        for shelf, kind, depth, (own, face), detail
        in zip(shelves, kinds, depths, sides, details, strict=True)
    ]  # fmt: skip
    placed = [
        distance(f"{shelf}_up", "divider.bottom", f"{shelf}.bottom", height)
        for shelf, height in zip(shelves, heights, strict=True)
        if height
    ]
    lengths = [size(shelf, "length", "xyz", "20") for shelf in shelves]
    return made(
        [part("divider", "zyx"), part("one", "xyz"), part("two", "xyz")],
        joints=joints,
        distances=[*placed, *lengths, size("divider", "length", "zyx", "30"),
                   size("divider", "width", "zyx", "10")],
        flush=[*flush("divider", "one", "y"), *flush("divider", "two", "y")],
        **more,
    )  # fmt: skip


class TestSlotDepth:
    def test_half_the_host_is_not_too_deep(self):
        """3/8 of 3/4 in is half."""
        assert not found(case(depth="3/8"), "slot_depth")

    def test_deeper_than_half_is(self):
        """25/64 of 3/4 in is 25/48."""
        one, other = found(case(depth="25/64"), "slot_depth")

        assert one.key == "slot_depth/joint:shelf_left"
        assert other.key == "slot_depth/joint:shelf_right"
        assert amounts(one)["share"] == Fraction(25, 48)
        assert str(one.what) == (
            "Shelf in Left: the slot is 25/64 in deep, more than 1/2 of Left (3/4 in)"
        )
        assert one.source.startswith("common practice, no source")

    def test_a_shop_may_want_a_third(self):
        """1/4 of 3/4 in is a third; 17/64 is more."""
        shop = ShopLimits(slot_share=Limit(value=Fraction(1, 3)))

        assert not found(case(depth="1/4"), "slot_depth", shop)
        assert len(found(case(depth="17/64"), "slot_depth", shop)) == 2
        assert found(case(depth="17/64"), "slot_depth", shop)[0].source == (
            "set for this shop"
        )

    def test_a_groove_in_an_edge_is_held_against_its_width(self):
        """1 in deep in a stile 2 in wide."""
        of = made(
            [part("stile", "zxy"), part("panel", "zxy", stock="ply")],
            joints=[joint("j", "groove", "panel.left", "stile.right", depth="1")],
            distances=[size("stile", "length", "zxy", "20"),
                       size("stile", "width", "zxy", "2"),
                       size("panel", "width", "zxy", "9")],
            flush=flush("stile", "panel", "z"),
        )  # fmt: skip

        assert not found(of, "slot_depth")

    def test_a_deep_mortise_is_no_slot(self):
        """Tenons go deep on purpose."""
        assert not found(case(kind="tenon", depth="5/8"), "slot_depth")


class TestBackToBack:
    def test_a_third_left_is_enough(self):
        """3/4 − 1/4 − 1/4 = 1/4 in, a third."""
        assert not found(in_one_divider(), "back_to_back")

    def test_less_is_not(self):
        """3/4 − 1/4 − 17/64 = 15/64 in."""
        (finding,) = found(in_one_divider(depths=("1/4", "17/64")), "back_to_back")

        assert finding.key == "back_to_back/joint:one_in+joint:two_in"
        assert amounts(finding) == {
            "left between": Fraction(15, 64),
            "at least": Fraction(1, 4),
        }
        assert str(finding.what) == (
            "One in Divider and Two in Divider lie back to back: 15/64 in of Divider "
            "stays between them"
        )
        assert [str(w) for w in finding.where] == [
            "joint:one_in", "joint:two_in", "part:divider"]  # fmt: skip

    def test_slots_that_meet_say_so(self):
        """3/4 − 3/8 − 3/8 = 0."""
        (finding,) = found(in_one_divider(depths=("3/8", "3/8")), "back_to_back")

        assert amounts(finding)["left between"] == 0
        assert str(finding.what).endswith("meet inside Divider")

    @pytest.mark.parametrize(("height", "count"), [("6 47/64", 1), ("6 3/4", 0)])
    def test_only_slots_over_each_other(self, height, count):
        """Slots 3/4 in wide, one 6 in up, end 6 3/4 in up."""
        of = in_one_divider(depths=("3/8", "3/8"), heights=("6", height))

        assert len(found(of, "back_to_back")) == count

    @pytest.mark.parametrize(("by", "count"), [("4 63/64", 1), ("5", 0)])
    def test_stopped_slots_that_pass_each_other(self, by, count):
        """One ends 5 in behind the front, the other `by` before the back, of 10 in."""
        of = in_one_divider(
            depths=("3/8", "3/8"),
            left={"stops": [{"at": "front", "by": "5"}]},
            right={"stops": [{"at": "back", "by": by}]},
        )

        assert len(found(of, "back_to_back")) == count

    def test_mortises_count_their_glue_room(self):
        """Tenons 3/16 in long, mortises 1/4 in deep: 1/4 in stays; then 15/64."""
        kinds = ("tenon", "tenon")
        inside = in_one_divider(kinds=kinds, depths=("3/16", "3/16"))
        (outside,) = found(
            in_one_divider(kinds=kinds, depths=("3/16", "13/64")), "back_to_back"
        )

        assert not found(inside, "back_to_back")
        assert amounts(outside)["left between"] == Fraction(15, 64)

    def test_mortises_side_by_side(self):
        """Tenons 1/4 in thick, over each other, or one 1/4 in higher."""
        tenon = {"tenon": {"thickness": "1/4", "edge_shoulder": "4"}}
        kinds, depths = ("tenon", "tenon"), ("3/8", "3/8")
        over = in_one_divider(kinds=kinds, depths=depths, left=tenon, right=tenon)
        beside = in_one_divider(
            kinds=kinds, depths=depths, heights=("6", "6 1/4"), left=tenon, right=tenon
        )

        assert len(found(over, "back_to_back")) == 1
        assert not found(beside, "back_to_back")

    def test_nothing_is_said_where_nothing_fixes_the_place(self):
        of = in_one_divider(depths=("3/8", "3/8"), heights=("6", None))
        mortise = made(
            [part("post", "zyx"), part("rail", "xyz")],
            joints=[joint("j", "tenon", "rail.left", "post.right", depth="1/2")],
            distances=[size("post", "length", "zyx", "20"),
                       size("post", "width", "zyx", "3"),
                       size("rail", "length", "xyz", "20"),
                       size("rail", "width", "xyz", "2")],
        )  # fmt: skip

        assert not found(of, "back_to_back")
        assert not found(mortise, "back_to_back")

    def test_slots_in_one_face_are_not_back_to_back(self):
        """Two shelves, one over the other, in the sides: same face or other side."""
        more = {
            "parts": [part("low", "xyz")],
            "joints": [
                joint(f"low_{face}", "dado", f"low.{face}", f"{side}", depth="3/8")
                for face, side in (("left", "left.right"), ("right", "right.left"))
            ],
            "distances": [distance("low_up", "left.bottom", "low.bottom", "6")],
            "flush": flush("left", "low", "y"),
        }

        assert not found(case(more=more), "back_to_back")


class TestThinLip:
    def test_an_eighth_behind_a_rabbet_is_enough(self):
        """3/4 − 5/8 = 1/8 in."""
        assert not found(case(kind="rabbet", depth="5/8"), "thin_lip")

    def test_less_is_not(self):
        """3/4 − 41/64 = 7/64 in."""
        one, _ = found(case(kind="rabbet", depth="41/64"), "thin_lip")

        assert one.key == "thin_lip/joint:shelf_left/behind"
        assert amounts(one) == {"lip": Fraction(7, 64), "at least": Fraction(1, 8)}
        assert str(one.what) == (
            "Shelf in Left: the lip behind the rabbet is only 7/64 in thick"
        )

    def test_the_wood_behind_a_dado_is_another_check(self):
        assert not found(case(depth="41/64"), "thin_lip")

    @pytest.mark.parametrize(("height", "count"), [("1/8", 0), ("7/64", 2)])
    def test_the_wood_below_a_slot(self, height, count):
        assert len(found(case(height=height), "thin_lip")) == count

    @pytest.mark.parametrize(("height", "count"), [("29 1/8", 0), ("29 9/64", 2)])
    def test_the_wood_above_a_slot(self, height, count):
        """30 − 29 1/8 − 3/4 = 1/8 in."""
        of = case(height=height)

        assert len(found(of, "thin_lip")) == count

    def test_a_clearance_makes_the_lip_thinner(self):
        """30 − 29 1/8 − 3/4 − 0.005 = 0.120 in."""
        one, _ = found(case(height="29 1/8", clearance="0.005"), "thin_lip")

        assert one.key == "thin_lip/joint:shelf_left/beside"
        assert amounts(one)["lip"] == Fraction("0.12")
        assert str(one.what) == "Shelf in Left: only 0.120 in of Left stays beside it"

    def test_a_rabbet_that_runs_out_at_the_end_has_no_lip_there(self):
        """30 − 29 1/4 − 3/4 = 0."""
        assert not found(case(kind="rabbet", height="29 1/4"), "thin_lip")

    def test_nothing_is_said_where_nothing_fixes_the_place(self):
        assert not found(case(height=None), "thin_lip")


def test_a_guest_laid_in_flat_has_no_slot():
    """A plate in a recess in a board: its thickness lies on the joint's axis."""
    of = made(
        [part("board", "xyz"), part("plate", "xyz", stock="ply")],
        joints=[joint("j", "dado", "plate.bottom", "board.top", depth="3/8")],
        distances=[size("board", "length", "xyz", "12"),
                   size("board", "width", "xyz", "6"),
                   size("plate", "length", "xyz", "2"),
                   size("plate", "width", "xyz", "2")],
    )  # fmt: skip

    assert not found(of, "thin_lip")
    assert not found(of, "back_to_back")


def test_what_a_shop_sets_holds():
    """A lip of 1/4 in asked for: 3/4 − 9/16 = 3/16 in is too thin."""
    shop = ShopLimits(lip_mm=Limit(value=IN / 4))

    assert len(found(case(kind="rabbet", depth="9/16"), "thin_lip", shop)) == 2
