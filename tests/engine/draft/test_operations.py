"""Each operation does what it says, and refuses in words what is impossible."""

import json
from typing import Any

import pytest

from projects.engine import draft
from projects.engine.errors import EngineError
from tests.engine.builds import boot_bench, data, joint, part


@pytest.fixture
def bench():
    return boot_bench()


ODD: Any = "w"
REFUSED = [
    (lambda d: draft.change_part(d, "nobody", name="x"), "there is no part 'nobody'"),
    (lambda d: draft.change_part(d, "shelf", colour="x"), "a part has no field"),
    (lambda d: draft.change_part(d, "shelf", stock="oak"), "there is no stock 'oak'"),
    (lambda d: draft.change_part(d, "shelf", length="w"), "an axis is one of x, y, z"),
    (lambda d: draft.remove_stock(d, "board"), "Board is still used by: Left side, "),
    (lambda d: draft.pair_parts(d, "shelf", "shelf"), "can't be its own pair"),
    (lambda d: draft.pair_parts(d, "shelf", "left_side"), "already has a partner"),
    (lambda d: draft.make_pair(d, "left_side"), "Left side already has a partner"),
    (lambda d: draft.make_pair(d, "shelf", axis=ODD), "an axis is one of"),
    (lambda d: draft.add_joint(d, kind="nail", guest="shelf.left",
                               host="left_side.right"), "a joint is one of dado"),
    (lambda d: draft.add_joint(d, kind="butt", guest="shelf.left", host="x.right"),
     "there is no face 'x.right'"),
    (lambda d: draft.add_joint(d, kind="butt", guest="shelf.left",
                               host="left_side.left"), "must look at each other"),
    (lambda d: draft.add_joint(d, kind="butt", guest="shelf.left",
                               host="shelf.right"), "a joint needs two parts"),
    (lambda d: draft.add_distance(d, name="x", start="shelf.left",
                                  end="shelf.top"), "between two faces on one axis"),
    (lambda d: draft.add_distance(d, name="x", start="shelf.left",
                                  end="shelf.left"), "between two faces on one axis"),
    (lambda d: draft.change_distance(d, "opening", fits=["nobody"]), "no part"),
    (lambda d: draft.make_flush(d, "shelf.left", "shelf.left"), "flush with itself"),
    (lambda d: draft.make_flush(d, "shelf.left", "shelf.top"), "across one axis"),
    (lambda d: draft.add_flush(d, ["shelf.left", "shelf.up"]), "there is no face"),
    (lambda d: draft.add_to_flush(d, 0, "shelf.left"), "across one axis"),
    (lambda d: draft.add_to_flush(d, 0, "shelf.front"), "in this list already"),
    (lambda d: draft.add_to_flush(d, 9, "shelf.front"), "no flush list number 10"),
    (lambda d: draft.remove_from_flush(d, 0, "shelf.back"), "is not in this list"),
    (lambda d: draft.add_even(d, [["shelf.left"]]), "between two faces"),
    (lambda d: draft.remove_from_even(d, 0, 0), "there is no even list number 1"),
    (lambda d: draft.move(d, "parts", 0, to=9), "there is no part number 10"),
    (lambda d: draft.rekey(d, "parts", "shelf", "Shelf 1"), "a key is up to 40"),
    (lambda d: draft.rekey(d, "parts", "shelf", "left_side"), "already used"),
    (lambda d: draft.set_units(d, ODD), "units are in or mm"),
    (lambda d: draft.faces_facing(d, "shelf.up"), "there is no face"),
]  # fmt: skip


@pytest.mark.parametrize(("operation", "why"), REFUSED)
def test_the_impossible_is_refused_in_words(bench, operation, why):
    with pytest.raises(EngineError, match=why):
        operation(bench)
    assert bench == boot_bench()


class TestHead:
    def test_other_units_keep_what_bare_lengths_mean(self):
        document = data(
            [part("shelf", "xyz"), part("side", "zyx")],
            stock=[{"key": "board", "name": "B", "kind": "solid", "thickness": 0.75}],
            joints=[
                joint("j", "tenon", "shelf.left", "side.right", depth=" 3/8 ",
                      clearance="1' 3", tenon={"thickness": {"of_thickness": "1/2"},
                                               "edge_shoulder": "wide"}),
                joint("k", "dado", "shelf.left", "side.right", depth="9 mm",
                      stops=[{"at": "front", "by": "1/2"}, 7]),
                joint("l", "dowel", "shelf.left", "side.right",
                      dowels={"diameter": "3/8", "length": 2, "count": 3}),
            ],
            distances=[{"key": "d", "value": "36"}, "odd"],
        )  # fmt: skip
        made = draft.set_units(document, "mm")

        assert made["units"] == "mm"
        assert made["stock"][0]["thickness"] == "0.75 in"
        assert made["joints"][0]["depth"] == "3/8 in"
        assert made["joints"][0]["clearance"] == "1' 3"
        assert made["joints"][0]["tenon"] == document["joints"][0]["tenon"]
        assert made["joints"][1]["depth"] == "9 mm"
        assert made["joints"][1]["stops"] == [{"at": "front", "by": "1/2 in"}, 7]
        assert made["joints"][2]["dowels"] == {
            "diameter": "3/8 in", "length": "2 in", "count": 3,
        }  # fmt: skip
        assert made["distances"] == [{"key": "d", "value": "36 in"}, "odd"]

    def test_a_length_too_long_in_the_new_unit_keeps_the_old(self):
        document = draft.add_stock(
            draft.blank("Long", units="mm"), name="Pole", thickness="19000"
        )

        assert draft.set_units(document, "in")["stock"][0]["thickness"] == "19000 mm"

    def test_nothing_typed_takes_a_field_away(self):
        document = draft.set_title(draft.blank("Bench"), "")

        assert "title" not in document
        assert draft.look(document).faults[0].place == "title"


class TestParts:
    def test_a_key_is_made_from_the_name_and_unique(self):
        document = draft.blank("Keys")
        for name in ("Left side", "Left side", "Größe!", "日本", "3rd", "n" * 60):
            document = draft.add_part(document, name=name)

        assert [one["key"] for one in document["parts"]] == [
            "left_side", "left_side_2", "groe", "part", "part_3rd", "n" * 40,
        ]  # fmt: skip

    def test_an_axis_that_is_taken_is_traded(self, bench):
        made = draft.change_part(bench, "shelf", length="z")
        shelf = made["parts"][2]

        assert (shelf["length"], shelf["width"], shelf["thickness"]) == ("z", "y", "x")

    def test_a_new_name_with_its_key_is_followed_everywhere(self, bench):
        bench["distances"][-1]["fits"] = ["shelf"]
        bench["even"] = [[["shelf.left", "shelf.right"], ["left_side.left", "x.y"]]]
        bench = draft.add_step(bench, title="Cut", stage="joinery", parts=["shelf"])
        made = draft.rename_part(bench, "shelf", "Lower shelf", key_too=True)
        pair = draft.rename_part(made, "right_side", "Far side", key_too=True)

        assert "shelf." not in json.dumps(made).replace("lower_shelf.", "")
        assert made["steps"][0]["parts"] == ["lower_shelf"]
        assert made["distances"][-1]["fits"] == ["lower_shelf"]
        assert pair["parts"][0]["pair"] == "far_side"

    def test_renamed_to_its_own_name_it_keeps_its_key(self, bench):
        assert draft.rename_part(bench, "shelf", "Shelf", key_too=True) == bench

    def test_a_copy_stands_after_it_and_is_tied_to_nothing(self, bench):
        made = draft.duplicate_part(bench, "left_side", name="Middle")

        copied = {**bench["parts"][0], "key": "middle", "name": "Middle"}
        del copied["pair"]
        assert made["parts"][1] == copied
        assert made["joints"] == bench["joints"]

    def test_what_goes_is_told_before_it_goes(self, bench):
        bench["distances"][-1]["fits"] = ["left_side"]
        bench = draft.add_step(
            bench, title="Cut", stage="joinery", parts=["left_side"],
            joints=["shelf_left"], measured_first=["overall_width", "stock:board"],
        )  # fmt: skip
        said = [gone.text for gone in draft.what_goes(bench, "left_side")]
        made = draft.remove_part(bench, "left_side")

        assert said[0] == "the joint Shelf in Left side goes"
        assert said[-2] == "Right side is no longer one of a pair"
        assert "the distance Overall width goes" in said
        assert "flush list 1 loses a face" in said
        assert "flush list 3 goes" in said
        assert said[-1] == "the step Cut no longer names what goes"
        assert "left_side" not in json.dumps(made)
        assert made["steps"][0] == {
            "key": "cut", "title": "Cut", "stage": "joinery",
            "measured_first": ["stock:board"],
        }  # fmt: skip
        assert not draft.look(made).faults

    def test_a_part_nothing_names_takes_nothing_along(self, bench):
        made = draft.add_part(bench, name="Loose")

        assert draft.what_goes(made, "loose") == ()
        assert draft.remove_part(made, "loose") == bench


class TestTies:
    def test_another_kind_drops_what_it_has_no_use_for(self, bench):
        made = draft.change_joint(
            bench, "shelf_left", stops=[{"at": "front", "by": "1/2"}]
        )
        butt = draft.change_joint(made, "shelf_left", kind="butt")["joints"][0]

        assert "depth" not in butt
        assert "stops" not in butt
        assert butt["clearance"] == "0.005"

    def test_without_a_value_there_is_no_rank(self, bench):
        made = draft.change_distance(bench, "overall_width", value="")

        assert "held" not in made["distances"][0]

    def test_two_flush_lists_become_one(self, bench):
        document = draft.add_flush(bench, ["left_side.left", "shelf.left"])
        document = draft.add_flush(document, ["right_side.left", "right_side.right"])
        count = len(document["flush"])
        made = draft.make_flush(document, "shelf.left", "right_side.left")

        assert len(made["flush"]) == count - 1
        assert made["flush"][-1] == [
            "left_side.left", "shelf.left", "right_side.left", "right_side.right",
        ]  # fmt: skip

    def test_a_list_left_with_one_goes(self, bench):
        made = draft.remove_from_flush(bench, 3, "left_side.top")
        even = draft.add_even(
            bench,
            [["left_side.left", "shelf.left"], ["shelf.right", "right_side.right"]],
        )
        more = draft.add_to_even(even, 0, "shelf.left", "shelf.right")

        assert made["flush"] == bench["flush"][:3]
        assert draft.remove_from_even(more, 0, 2) == even
        assert draft.remove_from_even(even, 0, 1)["even"] == []


class TestPairs:
    def side_and_shelf(self):
        document = data([part("left_side", "zyx"), part("shelf", "xyz")])
        document = draft.add_joint(
            document, kind="dado", guest="shelf.left", host="left_side.right",
            depth="3/8", name="Shelf in left side", stops=[{"at": "front", "by": "1"}],
        )  # fmt: skip
        return draft.make_flush(document, "left_side.front", "shelf.front")

    def test_the_partner_has_the_joints_seen_in_a_mirror(self):
        made = draft.make_pair(self.side_and_shelf(), "left_side")

        assert [(p["key"], p["name"], p.get("pair")) for p in made["parts"]] == [
            ("left_side", "Left side", "right_side"),
            ("right_side", "Right side", "left_side"),
            ("shelf", "Shelf", None),
        ]
        assert made["joints"][1] == {
            "key": "shelf_in_right_side", "kind": "dado", "guest": "shelf.right",
            "host": "right_side.left", "depth": "3/8", "name": "Shelf in right side",
            "stops": [{"at": "front", "by": "1"}],
        }  # fmt: skip
        assert made["flush"] == [
            ["left_side.front", "shelf.front", "right_side.front"],
            ["left_side.back", "right_side.back"],
            ["left_side.bottom", "right_side.bottom"],
            ["left_side.top", "right_side.top"],
        ]

    def test_only_its_place_along_the_piece_is_left_to_say(self):
        document = self.side_and_shelf()
        for name, start, end in (
            ("Height", "left_side.bottom", "left_side.top"),
            ("Depth", "left_side.front", "left_side.back"),
            ("Width", "shelf.front", "shelf.back"),
            ("At", "left_side.bottom", "shelf.bottom"),
        ):
            document = draft.add_distance(
                document, name=name, start=start, end=end, value="12"
            )
        made = draft.make_pair(document, "left_side")
        (question,) = draft.look(made).questions
        wide = draft.add_distance(
            made, name="Overall", start="left_side.left", end="right_side.right",
            value="36",
        )  # fmt: skip

        assert "Right side" in question.text
        assert draft.look(wide).ready

    def test_on_the_axis_of_the_thickness_one_face_is_enough(self):
        document = data([part("left_stile", "zxy")])
        made = draft.make_pair(document, "left_stile")

        assert made["flush"] == [
            ["left_stile.front", "right_stile.front"],
            ["left_stile.bottom", "right_stile.bottom"],
            ["left_stile.top", "right_stile.top"],
        ]

    def test_joints_between_two_pairs_join_the_partners(self):
        document = data([part("left_post", "zxy"), part("left_foot", "yxz")])
        document = draft.make_pair(document, "left_post")
        document = draft.add_joint(
            document, kind="butt", guest="left_post.bottom", host="left_foot.top"
        )
        made = draft.make_pair(document, "left_foot")

        assert (made["joints"][1]["guest"], made["joints"][1]["host"]) == (
            "right_post.bottom", "right_foot.top",
        )  # fmt: skip
        assert ["left_foot.top", "right_foot.top"] not in made["flush"]

    def test_what_is_flush_along_the_piece_is_flush_at_the_other_end(self):
        document = data([part("left_side", "zyx"), part("top", "xyz")])
        document = draft.make_flush(document, "left_side.left", "top.left")
        made = draft.make_pair(document, "left_side")

        assert ["right_side.right", "top.right"] in made["flush"]

    def test_a_name_without_a_side_says_that_it_is_mirrored(self):
        document = data([part("leg", "zyx")])

        assert draft.make_pair(document, "leg")["parts"][1]["name"] == "Leg, mirrored"


class TestChoices:
    def test_hosts_look_at_the_guest(self, bench):
        choices = draft.faces_facing(bench, "shelf.left")

        assert [(c.face, c.words, c.joined) for c in choices] == [
            ("left_side.right", "Left side, right face", True),
            ("right_side.right", "Right side, right face", False),
        ]

    def test_all_others_on_the_axis(self, bench):
        faces = [choice.face for choice in draft.faces_on_axis(bench, "shelf.left")]

        assert len(faces) == 5
        assert "shelf.right" in faces

    def test_the_six_of_a_part(self, bench):
        assert len(draft.faces_of(bench, "shelf")) == 6
        assert draft.faces_of(bench, "nobody") == ()


class TestSteps:
    def test_they_follow_what_they_name(self, bench):
        made = draft.add_step(
            bench, title="Dados", stage="joinery", joints=["shelf_left"],
            measured_first=["opening", "stock:board"],
        )  # fmt: skip
        made = draft.rekey(made, "joints", "shelf_left", "first")
        made = draft.rekey(made, "distances", "opening", "gap")
        made = draft.rekey(made, "stock", "board", "oak")
        made = draft.change_step(made, "dados", note="Slowly.")
        cut = draft.remove_joint(draft.remove_distance(made, "gap"), "first")

        assert made["steps"] == [
            {"key": "dados", "title": "Dados", "stage": "joinery", "joints": ["first"],
             "measured_first": ["gap", "stock:oak"], "note": "Slowly."}
        ]  # fmt: skip
        assert cut["steps"][0]["measured_first"] == ["stock:oak"]
        assert "joints" not in cut["steps"][0]
        assert draft.remove_step(made, "dados")["steps"] == []
