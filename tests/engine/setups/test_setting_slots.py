"""Settings of slots, worked by hand: a joint kind at a time."""

from fractions import Fraction

from projects.engine.fit.uncertainty import uncertainty
from projects.engine.joints import KINDS
from projects.engine.setups.setting_guests import GUEST_CUTS
from projects.engine.setups.setting_hosts import HOST_CUTS
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
    case,
    framed,
    numbers,
    only,
    settings,
    where,
)

READINGS = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
MEAN = Fraction("2.227") / 3


def test_every_joint_kind_is_worked_here():
    worked = {"dado", "rabbet", "groove", "butt", "tenon", "half_lap", "dowel"}

    assert worked == set(KINDS) == set(HOST_CUTS) == set(GUEST_CUTS)


class TestDado:
    def test_through(self):
        """The shelf's underside lies 6 in up: the near side of the slot.

        Wide 0.744, the thickest reading, and 0.005; deep 3/8.
        """
        setting = only(
            settings(solved(case(), READINGS), "table_saw", "shelf_left", "shelf_right")
        )

        assert where(setting) == ("slot", "stop", "near")
        assert numbers(setting) == {
            "stop": 6,
            "width": Fraction("0.749"),
            "height": Fraction(3, 8),
        }
        assert [piece.part for piece in setting.pieces] == ["left_side", "right_side"]

    def test_its_sum_is_kept(self):
        """The width is the mean of the readings, what the thickest is over it, 0.005.

        Each of the three readings counts a third; a tape's mark is 1/16.
        """
        solution = solved(case(), READINGS)
        width = only(settings(solution, "table_saw", "shelf_left")).quantity("width")
        [term] = width.terms(solution)

        assert term.name == "Shelf thickness"
        assert [(e.name, e.mm / inches(1)) for e in width.extras] == [
            ("thickest reading over the mean", Fraction("0.744") - MEAN),
            ("clearance", Fraction("0.005")),
        ]
        assert uncertainty(solution, width.form).worst_mm == inches("1/32")

    def test_told_from_the_top_where_that_is_shorter_said(self):
        """3 in down from the top to the shelf's top face; the slot is 0.005 higher.

        From the bottom the sum would be 18 less 3 less the thickness.
        """
        of = case()
        of["distances"][1] = distance(
            "shelf_height", "shelf.top", "left_side.top", "3", held=2
        )
        setting = only(settings(solved(of), "table_saw", "shelf_left"))

        assert setting.stop_mm == inches("2.995")
        assert setting.pieces[0].against == ("top",)

    def test_a_pair_mirrors_and_so_the_other_edge_leads(self):
        """Left side, inside face down, bottom at the stop on the right: front leads.

        Turned so that its own inside face lies down and the bottom is at the stop, the
        right side has its back in front.
        """
        setting = only(
            settings(solved(case()), "table_saw", "shelf_left", "shelf_right")
        )
        left, right = setting.pieces

        assert (left.down, left.against) == (("right",), ("bottom",))
        assert (right.down, right.against) == (("left",), ("bottom",))
        assert (left.leads, right.leads) == ("front", "back")
        assert (left.mirrors, right.mirrors) == ("right_side", "left_side")

    def test_stopped(self):
        """It stops 1/2 behind the front: that leads on one, comes last on the other."""
        of = case(stops=[{"at": "front", "by": "1/2"}])
        joints = ("shelf_left", "shelf_right")
        setting = only(
            settings(solved(of), "router_table", *joints,
                     parts=("left_side", "right_side"))
        )  # fmt: skip
        ends = [end for piece in setting.pieces for end in piece.ends]

        assert numbers(setting)["short"] == Fraction(1, 2)
        assert [(end.edge, end.mm / inches(1)) for end in ends] == [
            ("front", Fraction(1, 2))
        ] * 2
        assert [end.leads for end in ends] == [True, False]

    def test_notches_of_a_stopped_one(self):
        """3/8 in from the shelf's ends, as deep as the slot, and 1/2 from its front."""
        of = case(stops=[{"at": "front", "by": "1/2"}])
        joints = ("shelf_left", "shelf_right")
        setting = only(settings(solved(of), "hand_tools", *joints, parts=("shelf",)))

        assert setting.kind == "notch"
        assert numbers(setting) == {"stop": Fraction(3, 8), "height": Fraction(1, 2)}
        assert [piece.against for piece in setting.pieces] == [("left",), ("right",)]

    def test_a_shelf_that_stands_back_as_far_as_the_stop_has_no_notch(self):
        of = case(stops=[{"at": "front", "by": "1/2"}])
        of["flush"][0].remove("shelf.front")
        of["distances"].append(
            distance("back", "left_side.front", "shelf.front", "1/2")
        )

        found = settings(solved(of), "hand_tools", "shelf_left", parts=("shelf",))

        assert found == ()

    def test_by_hand_tools_it_is_marked_and_nothing_lies_down(self):
        piece = only(settings(solved(case()), "hand_tools", "shelf_left")).pieces[0]

        assert (piece.down, piece.leads) == ((), None)
        assert piece.worked == ("right",)


class TestRabbet:
    def test_runs_out_at_the_end(self):
        """Across the stile's edge lies the rail's thickness, level with its front.

        So the far side of the blade is its 3/4 and 0.005 from the fence there.
        """
        solution = framed("rabbet", depth="3/8", clearance="0.005")
        setting = only(settings(solution, "table_saw", "j"))

        assert where(setting) == ("rabbet", "fence", "far")
        assert numbers(setting) == {"stop": Fraction("0.755"), "height": Fraction(3, 8)}

    def test_both_ends_of_a_part_get_the_same(self):
        """Two ends between two sides, each level with the sides' ends: 3/4 + 0.005.

        The clearance lies on the inside at both, so that one stop serves both.
        """
        of = data(
            [part("front_side", "xzy"), part("left_end", "yzx"),
             part("right_end", "yzx")],
            joints=[
                joint("l", "rabbet", "left_end.front", "front_side.back",
                      depth="3/8", clearance="0.005"),
                joint("r", "rabbet", "right_end.front", "front_side.back",
                      depth="3/8", clearance="0.005"),
            ],
            distances=[
                size("front_side", "length", "xzy", "14"),
                size("front_side", "width", "xzy", "3"),
                size("left_end", "length", "yzx", "9"),
                size("right_end", "length", "yzx", "9"),
            ],
            flush=[
                ["front_side.left", "left_end.left"],
                ["front_side.right", "right_end.right"],
                ["front_side.bottom", "left_end.bottom", "right_end.bottom"],
                ["front_side.top", "left_end.top", "right_end.top"],
            ],
        )  # fmt: skip
        setting = only(settings(solved(of), "table_saw", "l", "r"))

        assert where(setting) == ("rabbet", "stop", "far")
        assert setting.stop_mm == inches("0.755")
        assert [piece.against for piece in setting.pieces] == [("left",), ("right",)]


class TestGroove:
    def test_along_the_grain_at_the_fence(self):
        """A bottom 1/4 up in a side 4 wide; 3/4 wide and 0.005, 3/8 deep."""
        of = data(
            [part("side", "yzx"), part("floor", "yxz")],
            joints=[joint("j", "groove", "floor.left", "side.right",
                          depth="3/8", clearance="0.005")],
            distances=[
                size("side", "length", "yzx", "20"), size("side", "width", "yzx", "4"),
                size("floor", "length", "yxz", "18"),
                size("floor", "width", "yxz", "9"),
                distance("up", "side.bottom", "floor.bottom", "1/4"),
                distance("in", "side.front", "floor.front", "1"),
            ],
        )  # fmt: skip
        setting = only(settings(solved(of), "table_saw", "j"))
        [piece] = setting.pieces

        assert where(setting) == ("groove", "fence", "near")
        assert numbers(setting) == {
            "stop": Fraction(1, 4),
            "width": Fraction("0.755"),
            "height": Fraction(3, 8),
        }
        assert (piece.down, piece.against, piece.leads) == (
            ("right",), ("bottom",), "front",
        )  # fmt: skip
        # the floor ends 1 in inside both ends; whether the groove does is left open
        assert {(e.edge, e.mm / inches(1), e.at_least) for e in piece.ends} == {
            ("front", 1, True), ("back", 1, True),
        }  # fmt: skip


class TestButt:
    def test_nothing_is_set(self):
        assert settings(framed("butt"), "table_saw", "j") == ()
