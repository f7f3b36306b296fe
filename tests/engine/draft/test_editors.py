"""Two editors: what changed between two documents, and both put together."""

import pytest

from projects.engine import draft
from tests.engine.builds import boot_bench


@pytest.fixture
def base():
    return boot_bench()


def texts(notes):
    return [note.text for note in notes]


class TestDifferences:
    def test_each_is_told_in_words(self, base):
        new = draft.set_title(base, "Bench")
        new = draft.change_distance(new, "overall_width", value="35 1/2")
        new = draft.change_joint(new, "shelf_left", depth={"of_thickness": "1/2"})
        new = draft.change_joint(
            new, "shelf_right", guest="shelf.left", host="left_side.right"
        )
        new = draft.remove_distance(new, "shelf_height")
        new = draft.add_part(new, name="Cleat")
        new = draft.move(new, "parts", 0, to=1)
        new = draft.remove_from_flush(new, 0, "shelf.front")
        new = draft.add_flush(new, ["shelf.top", "left_side.top"])

        assert texts(draft.differences(base, new)) == [
            "title: changed from Hall boot bench to Bench",
            "part Cleat added",
            "parts: in another order",
            "shelf_left: depth changed from 3/8 to 1/2 of the thickness",
            "shelf_right: guest changed from Shelf, right face to Shelf, left face",
            "shelf_right: host changed from Right side, left face to Left side, "
            "right face",
            "Overall width: value changed from 36 to 35 1/2",
            "distance Shelf height removed",
            "flush list 1: changed from Left side, front face, Shelf, front face, "
            "Right side, front face to Left side, front face, Right side, front face",
            "flush list 5 added: Shelf, top face, Left side, top face",
        ]

    def test_a_document_is_not_different_from_itself(self, base):
        assert draft.differences(base, boot_bench()) == ()

    def test_before_and_after_are_there(self, base):
        new = draft.change_distance(base, "overall_width", held=None)
        (change,) = draft.differences(base, new)

        assert (change.kind, change.field) == ("changed", "held")
        assert (change.before, change.after) == (1, None)
        assert change.at[0].key == "overall_width"
        assert change.text == "Overall width: held changed from 1 to nothing"


class TestMerge:
    def test_changes_to_different_fields_are_both_there(self, base):
        mine = draft.change_distance(base, "overall_width", value="30")
        mine = draft.add_part(mine, name="Cleat")
        mine = draft.add_to_flush(mine, 0, "cleat.front")
        theirs = draft.change_distance(base, "overall_width", held=3)
        theirs = draft.rename_part(theirs, "shelf", "Lower shelf")
        theirs = draft.remove_from_flush(theirs, 0, "shelf.front")
        merged = draft.merge(base, mine, theirs)

        assert merged.conflicts == ()
        assert merged.document["distances"][0]["value"] == "30"
        assert merged.document["distances"][0]["held"] == 3
        assert [p["name"] for p in merged.document["parts"]] == [
            "Left side", "Right side", "Lower shelf", "Cleat",
        ]  # fmt: skip
        assert merged.document["flush"][0] == [
            "left_side.front", "right_side.front", "cleat.front",
        ]  # fmt: skip
        assert len(merged.mine) == 3
        assert len(merged.theirs) == 3

    def test_one_field_changed_twice_is_a_conflict_and_mine_can_be_put_in(self, base):
        mine = draft.change_distance(base, "overall_width", value="30")
        theirs = draft.change_distance(base, "overall_width", value="40")
        merged = draft.merge(base, mine, theirs)
        (conflict,) = merged.conflicts

        assert merged.document == theirs
        assert (conflict.base, conflict.mine, conflict.theirs) == ("36", "30", "40")
        assert conflict.text == (
            "distance Overall width: you changed its value to 30, and it was changed "
            "to 40"
        )
        assert draft.take_mine(merged.document, conflict) == mine

    def test_so_is_the_title(self, base):
        merged = draft.merge(
            base, draft.set_title(base, "Mine"), draft.set_title(base, "Theirs")
        )
        (conflict,) = merged.conflicts

        assert conflict.text == (
            "title: you changed it to Mine, and it was changed to Theirs"
        )
        assert draft.take_mine(merged.document, conflict)["title"] == "Mine"

    def test_what_one_removed_and_the_other_changed_is_kept(self, base):
        changed = draft.change_distance(base, "shelf_height", value="7")
        removed = draft.remove_distance(base, "shelf_height")
        one = draft.merge(base, changed, removed)
        other = draft.merge(base, removed, changed)

        assert texts(one.conflicts) == [
            "distance Shelf height: you worked on it, and it was removed; it stays"
        ]
        assert texts(other.conflicts) == [
            "distance Shelf height: you removed it, and it was changed; it stays"
        ]
        for merged in (one, other):
            assert changed["distances"][1] in merged.document["distances"]
        assert draft.take_mine(other.document, other.conflicts[0]) == removed
        assert draft.take_mine(one.document, one.conflicts[0]) == one.document

    def test_a_removed_part_that_the_other_changed_stays_with_all_tied_to_it(
        self, base
    ):
        base = draft.add_step(
            base, title="Saw", stage="mill", parts=["shelf"], joints=["shelf_left"]
        )
        base = draft.change_step(base, "saw", measured_first=["shelf_height"])
        removed = draft.remove_part(base, "shelf")
        removed = draft.change_distance(removed, "overall_width", value="40")
        changed = draft.rename_part(base, "shelf", "Lower shelf")
        wanted = draft.change_distance(changed, "overall_width", value="40")
        one = draft.merge(base, changed, removed)
        other = draft.merge(base, removed, changed)

        for merged in (one, other):
            # a flush list that went whole comes back as the last
            for name in ("parts", "joints", "distances", "steps"):
                assert merged.document[name] == wanted[name]
            assert sorted(map(sorted, merged.document["flush"])) == (
                sorted(map(sorted, wanted["flush"]))
            )
        assert texts(one.conflicts) == [
            "part Lower shelf: you worked on it, and it was removed; it stays"
        ]
        assert texts(other.conflicts) == [
            "part Lower shelf: you removed it, and it was changed; it stays"
        ]
        assert draft.take_mine(one.document, one.conflicts[0]) == one.document
        out = draft.take_mine(other.document, other.conflicts[0])
        assert out["joints"] == removed["joints"]
        assert out["steps"] == removed["steps"]

    def test_a_removed_part_that_the_other_joined_stays(self, base):
        joined = draft.add_part(base, name="Cleat")
        joined = draft.add_joint(
            joined, kind="butt", guest="cleat.top", host="shelf.bottom"
        )
        removed = draft.remove_part(base, "shelf")
        merged = draft.merge(base, joined, removed)

        assert texts(merged.conflicts) == [
            "part Shelf: you worked on it, and it was removed; it stays"
        ]
        assert len(merged.document["joints"]) == len(joined["joints"])

    def test_removing_both_of_a_pair_is_no_conflict(self, base):
        mine, theirs = (
            draft.remove_part(base, key) for key in ("left_side", "right_side")
        )
        merged = draft.merge(base, mine, theirs)

        assert merged.conflicts == ()
        assert [part["key"] for part in merged.document["parts"]] == ["shelf"]

    def test_what_each_ticks_in_a_step_is_ticked(self, base):
        base = draft.add_step(
            base, title="Saw", stage="mill", parts=["shelf", "left_side"]
        )
        mine = draft.change_step(base, "saw", parts=["left_side", "right_side"])
        theirs = draft.change_step(base, "saw", parts=["shelf"])
        merged = draft.merge(base, mine, theirs)

        assert merged.conflicts == ()
        assert merged.document["steps"][0]["parts"] == ["right_side"]

    def test_two_parts_of_one_name_are_both_kept(self, base):
        mine = draft.add_part(base, name="Cleat", length="x")
        mine = draft.add_joint(
            mine, kind="butt", guest="cleat.top", host="shelf.bottom"
        )
        theirs = draft.add_part(base, name="Cleat", length="y")
        merged = draft.merge(base, mine, theirs)

        assert merged.conflicts == ()
        assert [p["key"] for p in merged.document["parts"]][3:] == ["cleat", "cleat_2"]
        assert merged.document["joints"][-1]["guest"] == "cleat_2.top"

    def test_the_same_change_by_both_is_no_conflict(self, base):
        new = draft.add_part(base, name="Cleat")
        new = draft.add_flush(new, ["cleat.front", "shelf.front"])
        merged = draft.merge(base, new, new)

        assert merged.conflicts == ()
        assert merged.document == new

    def test_a_flush_list_one_removed_and_the_other_changed_is_kept(self, base):
        removed = draft.remove_flush(base, 0)
        changed = draft.remove_from_flush(base, 0, "shelf.front")
        one = draft.merge(base, changed, removed)
        other = draft.merge(base, removed, changed)

        for merged in (one, other):
            assert changed["flush"][0] in merged.document["flush"]
            assert len(merged.conflicts) == 1
        assert draft.take_mine(other.document, other.conflicts[0]) == removed
        assert draft.take_mine(one.document, one.conflicts[0]) == one.document

    def test_an_order_one_changed_stays(self, base):
        mine = draft.move(base, "parts", 2, to=0)
        theirs = draft.add_part(base, name="Cleat")
        for merged in (
            draft.merge(base, mine, theirs), draft.merge(base, theirs, mine),
        ):  # fmt: skip
            assert [p["key"] for p in merged.document["parts"]] == [
                "shelf", "left_side", "right_side", "cleat",
            ]  # fmt: skip
