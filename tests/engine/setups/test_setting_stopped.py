"""What is said of cuts that end short of an edge. Common practice, no source.

A part is fed over the cutter edge first. On the left side the front edge goes first, on
its mirror image, which can be turned but not mirrored, the back edge: of two slots that
stop short of the front one begins inside the part and one ends there.
"""

import pytest

from projects.engine.setups.setting_records import Piece, PieceEnd
from projects.engine.setups.setting_stopped import is_drop_cut
from tests.engine.builds import inches, solved
from tests.engine.setups.setting_builds import case, framed
from tests.engine.setups.test_setting_words import all_said

SIDES = ("left_side", "right_side")
JOINTS = ("shelf_left", "shelf_right")


def lines(machine, *stops):
    """Return what is said of the left side and of the right one."""
    of = case(stops=[{"at": at, "by": "1/2"} for at in stops])
    found = all_said(solved(of), machine, *JOINTS, parts=SIDES)
    return found[-2:]


def test_at_the_router_table_one_of_a_pair_is_a_drop_cut():
    left, right = lines("router_table", "front")

    assert "which goes in first. That is a drop cut" in left
    assert "start with the part against a stop block" in left
    assert "lift it off only after the machine has stopped" in left
    assert "common practice, no source" in left
    assert "drop cut" not in right
    assert "which comes out last. Usual practice: feed up to a stop block" in right
    assert "only after the bit has stopped (common practice, no source)" in right


def test_at_the_table_saw_it_is_not_made():
    left, right = lines("table_saw", "front")

    assert "it is not made at the table saw, but with a router" in left
    assert "stop block" not in left
    assert "only after the blade has stopped" in right
    assert "The round of the blade stays at that end" in right


def test_stopped_at_both_edges_both_of_a_pair_are_drop_cuts():
    assert all("drop cut" in line for line in lines("router_table", "front", "back"))


@pytest.mark.parametrize("machine", ["router", "hand_tools"])
def test_from_above_nothing_is_lowered(machine):
    assert not any("drop cut" in line for line in lines(machine, "front", "back"))


def test_a_through_slot_has_nothing_to_say():
    assert not any("stopped" in line for line in lines("router_table"))


def test_an_end_that_may_be_stopped_says_what_that_would_be():
    """The rail's groove may end where what sits in it does, or run on."""
    found = all_said(framed("groove", depth="1/4"), "table_saw", "j")
    may = [line for line in found if "It may stop" in line]

    assert all("common practice" not in line for line in may)
    for line in may:
        assert ("which goes in first" in line) == ("stopped there it is a drop" in line)


def ended(*ends):
    return Piece(
        part="p",
        count=1,
        ends=tuple(
            PieceEnd(edge=edge, mm=inches("1/2"), leads=leads, at_least=at_least)
            for edge, leads, at_least in ends
        ),
    )


@pytest.mark.parametrize(
    ("ends", "drops"),
    [
        ([("front", True, False)], True),
        ([("front", False, False)], False),
        ([("front", True, True)], False),
        # not known which edge leads: the open one can be chosen
        ([("front", None, False)], False),
        ([("front", None, False), ("back", None, False)], True),
        ([("front", False, False), ("back", True, True)], False),
        ([], False),
    ],
)
def test_a_drop_cut_begins_inside_the_part(ends, drops):
    assert is_drop_cut(ended(*ends)) is drops
