"""What a look at a draft says, in words, and what it draws all the same."""

from fractions import Fraction
from itertools import pairwise

import pytest

from projects.engine import draft
from tests.bench.cabinet import _data as cabinet_document
from tests.engine.builds import (
    IN,
    boot_bench,
    data,
    distance,
    inches,
    joint,
    part,
    size,
)


def texts(notes):
    return [note.text for note in notes]


def keys(note):
    return [(ref.list_name, ref.key) for ref in note.at]


class TestFaults:
    def test_more_than_are_told_are_counted(self):
        document = boot_bench()
        document["parts"] = [{"key": f"part_{n}"} for n in range(60)]
        *_, last = draft.look(document).faults

        assert last.place == "plan"
        assert last.text.startswith("… and ")

    def test_each_is_at_its_place_though_an_earlier_one_hides_it_from_the_reader(self):
        document = boot_bench()
        document["units"] = "feet"
        document["stock"] = [{**document["stock"][0], "thickness": "thick"}]
        del document["parts"][2]["name"]
        document["parts"][1]["pair"] = "shelf"
        document["joints"][0]["depth"] = "0"
        document["distances"][1]["from"] = "left_side.under"
        document["flush"][1] = ["left_side.back"]
        document["colour"] = "red"
        look = draft.look(document)

        assert [fault.place for fault in look.faults] == [
            "units", "stock[0].thickness", "parts[2].name",
            "parts[0].pair", "parts[1].pair",
            "joints[0].depth", "distances[1].from", "flush[1]", "plan",
        ]  # fmt: skip
        assert texts(look.faults)[:3] == [
            "expected one of in, mm (read: 'feet')",
            "this is not a length, for example 3/4, 23 5/8, 0.742 or 19 mm "
            "(read: 'thick')",
            "the field name is missing",
        ]
        assert texts(look.faults)[-1] == "unknown field 'colour'"
        assert [fault.left_out for fault in look.faults] == [False] * 5 + [
            True, True, True, False,
        ]  # fmt: skip
        assert len(look.drawn) == 3
        assert not look.ready

    def test_a_part_without_stock_or_axes_is_drawn_at_a_guess(self):
        document = data([part("shelf", "xyz"), {"key": "rail", "name": "Rail"}])
        look = draft.look(document)

        assert [(fault.place, fault.left_out) for fault in look.faults] == [
            (f"parts[1].{name}", False)
            for name in ("stock", "length", "width", "thickness")
        ]
        assert [one.box.name for one in look.drawn] == ["Shelf", "Rail"]
        assert look.drawn[1].guessed_sizes == {"x", "y", "z"}
        assert look.drawn[0].guessed_sizes == {"x", "y"}

    def test_a_part_without_a_key_is_left_out_and_the_rest_keeps_its_places(self):
        document = boot_bench()
        document["parts"].insert(0, {"name": "No key"})
        document["parts"][1]["pair"] = "shelf"
        look = draft.look(document)

        assert look.faults[0].place == "parts[0].key"
        assert look.faults[0].left_out
        assert {fault.place for fault in look.faults} >= {"parts[1].pair"}
        assert [one.box.key for one in look.drawn] == [
            "left_side", "right_side", "shelf",
        ]  # fmt: skip
        assert look.questions == ()

    @pytest.mark.parametrize(
        "document", [None, [], "plan", {}, {"parts": {}}, {1: {2}}]
    )
    def test_what_is_no_plan_at_all_is_a_fault(self, document):
        look = draft.look(document)

        assert look.faults
        assert look.drawn == ()
        assert not look.ready

    def test_a_list_that_is_none_does_not_hide_the_others(self):
        document = boot_bench() | {"flush": "all", "distances": 3}
        look = draft.look(document)

        assert "flush must be a list (read: 'all')" in texts(look.faults)
        assert "distances must be a list (read: 3)" in texts(look.faults)
        assert len(look.drawn) == 3


class TestQuestions:
    def test_one_face_is_asked_about_by_name(self):
        document = boot_bench()
        document["joints"] = document["joints"][:1]
        look = draft.look(document)
        (question,) = look.questions

        assert question.text == (
            "Shelf: nothing says where its right is. Set its length, or join its right "
            "to something"
        )
        assert question.needed
        assert question.kind == "face"
        assert keys(question) == [("parts", "shelf")]
        assert question.faces == ("shelf.right",)
        assert [fix.faces for fix in question.fixes] == [
            ("shelf.left", "shelf.right"), ("shelf.right",), ("shelf.right",),
        ]  # fmt: skip

    def test_faces_that_are_flush_are_asked_about_once(self):
        document = boot_bench()
        document["distances"] = [
            d for d in document["distances"] if d["key"] != "left_side_width"
        ]
        look = draft.look(document)

        assert texts(look.questions) == [
            "Left side, Right side and Shelf: nothing says where their back is. Set "
            "the width of Left side, or join the back of one of them to something"
        ]

    def test_an_answer_by_its_first_fix_is_one(self):
        document = boot_bench()
        document["joints"] = document["joints"][:1]
        start, end = draft.look(document).questions[0].fixes[0].faces
        answered = draft.add_distance(
            document, name="Shelf length", start=start, end=end, value="34"
        )

        assert draft.look(answered).ready

    def test_a_part_with_sizes_but_no_place_can_be_published(self):
        document = data(
            [part("seat", "xyz"), part("leg", "zyx")],
            distances=[
                size("seat", "length", "xyz", "20"),
                size("seat", "width", "xyz", "10"),
                size("leg", "length", "zyx", "15"),
                size("leg", "width", "zyx", "2"),
            ],
            flush=[["seat.front", "leg.front"]],
        )
        look = draft.look(document)

        assert look.ready
        assert texts(look.questions) == [
            "Leg: nothing says where it is, from left to right and from bottom to top. "
            "Set a distance from another part, join it to one, or make a face flush"
        ]
        assert look.drawn[1].guessed_places == {"x", "z"}

    def test_where_nobody_could_tell_a_slot_s_place_it_says_so(self):
        document = boot_bench()
        document["flush"] = []
        document["distances"] += [
            size(key, "width", axes, "12")
            for key, axes in (
                ("left_side", "zyx"),
                ("right_side", "zyx"),
                ("shelf", "xyz"),
            )
        ]
        slots = [one for one in draft.look(document).questions if one.kind == "place"]

        assert slots
        assert all(one.cuts for one in slots)
        assert "so nobody can tell where its slot is cut. Set a" in slots[0].text

    def test_a_distance_to_be_shown_that_nothing_fixes(self):
        document = boot_bench()
        document["flush"][0].remove("shelf.front")
        document["distances"] += [
            size("shelf", "width", "xyz", "12"),
            distance("reveal", "left_side.front", "shelf.front"),
        ]
        document["flush"][1].remove("shelf.back")
        look = draft.look(document)
        asked = next(q for q in look.questions if q.kind == "distance")

        assert asked.text.startswith(
            "Reveal: nothing fixes how far Shelf, front face is from Left side, front "
            "face."
        )
        assert keys(asked) == [("distances", "reveal")]


class TestContradictions:
    def test_the_loop_is_named_with_its_amount(self):
        document = boot_bench()
        document["joints"].append(
            joint("twice", "dado", "shelf.left", "left_side.right", depth="1/4")
        )
        look = draft.look(document)
        (contradiction,) = look.contradictions

        assert contradiction.text == (
            "these can't all hold: Shelf in Left side (shelf_left) and Shelf in Left "
            "side (twice). They are off by 1/8 in"
        )
        assert contradiction.off_mm == inches("1/8")
        assert keys(contradiction) == [("joints", "shelf_left"), ("joints", "twice")]
        assert len(look.drawn) == 3
        assert look.about("joints", "twice") == (contradiction,)

    def test_a_wanted_distance_that_gives_is_softer(self):
        document = boot_bench()
        document["distances"].append(
            distance("inside", "left_side.right", "right_side.left", "34")
        )
        look = draft.look(document)
        (gives,) = look.gives

        assert look.ready
        assert gives.off_mm == IN / 2
        assert (gives.wanted_mm, gives.comes_out_mm) == (34 * IN, Fraction(69, 2) * IN)
        assert keys(gives)[0] == ("distances", "inside")
        assert ("distances", "overall_width") in keys(gives)
        assert gives.text.startswith(
            "Inside is wanted to be 34 in, but comes out at 34.5 in"
        )


class TestTroubles:
    def test_a_joint_deeper_than_its_host(self):
        document = boot_bench()
        document["joints"][0]["depth"] = "7/8"
        look = draft.look(document)

        assert texts(look.troubles) == [
            "joint Shelf in Left side: it is 7/8 in deep, but its host Left side is "
            "only 3/4 in on x"
        ]
        assert keys(look.troubles[0]) == [
            ("joints", "shelf_left"), ("parts", "left_side"),
        ]  # fmt: skip

    def test_a_size_below_0_is_told_and_drawn_as_something(self):
        document = boot_bench()
        document["distances"][0]["value"] = "1/2"
        look = draft.look(document)

        assert texts(look.troubles)[0] == (
            "Shelf: its length comes out at -0.25 in, but must be above 0"
        )
        assert ("distances", "overall_width") in keys(look.troubles[0])
        assert len(look.drawn) == 3
        assert not look.ready

    def test_fits_that_depend_on_nothing(self):
        document = boot_bench()
        document["distances"][-1]["fits"] = ["left_side"]
        look = draft.look(document)

        assert texts(look.troubles) == [
            "distance Opening: fits names Left side, but no size of Left side depends "
            "on this distance"
        ]
        assert ("distances", "opening") in keys(look.troubles[0])

    def test_more_work_than_is_done_for_one_plan(self, monkeypatch):
        monkeypatch.setattr("projects.engine.fit.elimination.MOST_WORK", 20)
        document = boot_bench() | {"title": "Too much"}
        look = draft.look(document)

        assert texts(look.troubles) == [
            "the plan ties together more faces than can be worked out; take out "
            "joints, distances or even spacing that say the same thing twice"
        ]


class TestDrawn:
    def test_parts_nothing_ties_together_stand_side_by_side_on_the_floor(self):
        document = data([part(f"p{n}", "xyz") for n in range(4)])
        boxes = [one.box for one in draft.look(document).drawn]

        for one, other in pairwise(boxes):
            assert one.x[1] < other.x[0]
            assert (one.y[0], one.z[0]) == (other.y[0], other.z[0])

    def test_shelves_without_a_height_are_spread_between_their_sides(self):
        document = boot_bench()
        document["distances"] = [
            d for d in document["distances"] if d["key"] != "shelf_height"
        ]
        document = draft.duplicate_part(document, "shelf", name="Upper")
        for end, host in (("left", "left_side.right"), ("right", "right_side.left")):
            document = draft.add_joint(
                document, kind="dado", guest=f"upper.{end}", host=host, depth="3/8"
            )
        boxes = {one.box.key: one.box for one in draft.look(document).drawn}

        assert 0 < boxes["shelf"].z[0] < boxes["shelf"].z[1]
        assert boxes["shelf"].z[1] < boxes["upper"].z[0]
        assert boxes["upper"].z[1] < boxes["left_side"].z[1]

    def test_a_cabinet_of_40_parts_is_drawn_whole(self):
        look = draft.look(cabinet_document())

        assert look.ready
        assert len(look.drawn) == 40
        assert not any(one.guessed_places for one in look.drawn)
        assert len(look.gives) == 7
