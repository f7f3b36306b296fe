"""What is cut on parts, against the solved boxes and by hand."""

import copy
import json
from fractions import Fraction
from math import sqrt
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.drawing.hidden import look
from projects.engine.drawing.isometric import lines, solids
from projects.engine.drawing.project import project
from projects.engine.partwork import part_sheets, part_work
from projects.engine.piece import boxes, housed
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

PLANS = Path("projects/demo/plans")
HUNDREDTH = Fraction(1, 100)
FACES = {
    "left": ("x", 0), "right": ("x", 1), "front": ("y", 0),
    "back": ("y", 1), "bottom": ("z", 0), "top": ("z", 1),
}  # fmt: skip


def demo(name):
    return json.loads((PLANS / f"{name}.json").read_text("utf-8"))


def works(solution):
    return {p.key: p for sheet in part_sheets(solution) for p in sheet.parts}


def marks(work, face=None):
    """Return the marks of a part by joint and kind, on one face or on any."""
    return {
        (mark.joint, mark.kind): mark
        for seen in work.faces
        if face in (None, seen.face)
        for mark in seen.marks
    }


def local_overlap(solution, guest, host):
    """Return where two solved boxes overlap or touch, from the host's low faces."""
    by_key = {box.key: box for box in boxes(solution)}
    one, other = by_key[guest], by_key[host]
    found = {}
    for axis in "xyz":
        low = max(getattr(one, axis)[0], getattr(other, axis)[0])
        high = min(getattr(one, axis)[1], getattr(other, axis)[1])
        start = getattr(other, axis)[0]
        found[axis] = (low - start, high - start)
    return found


def close(one, other):
    return abs(one - other) <= HUNDREDTH


def check_slots_match_the_boxes(solution):
    """Check every slot of every host against the overlap of the solved boxes."""
    joints = {j.key: j for j in solution.plan.joints}
    checked = 0
    for work in works(solution).values():
        for seen in work.faces:
            for mark in seen.marks:
                of = joints[mark.joint]
                if mark.kind != "slot" or of.host.part != work.key:
                    continue
                if of.kind == "tenon":
                    continue
                overlap = local_overlap(solution, of.guest.part, work.key)
                ends = {"u": FACES[seen.u_ends[0]][0], "v": FACES[seen.v_ends[0]][0]}
                for way, axis in ends.items():
                    low, high = overlap[axis]
                    drawn = getattr(mark, way)
                    if mark.across == way:
                        assert close(drawn[0], low)
                        wide = solution.cuts[mark.joint].width_mm
                        whole = solution.sizes[
                            work.key,
                            solution.plan.part_by_key[work.key].dimension_on(axis),
                        ]
                        assert close(drawn[1], min(low + wide, whole))
                    else:
                        stops = {s.at: s.by.mm for s in of.details or ()}
                        names = seen.u_ends if way == "u" else seen.v_ends
                        whole = seen.width_mm if way == "u" else seen.height_mm
                        low = stops.get(names[0], low)
                        high = whole - stops[names[1]] if names[1] in stops else high
                        assert close(drawn[0], low)
                        assert close(drawn[1], high)
                    checked += 1
    return checked


class TestDemoPlans:
    @pytest.mark.parametrize(
        ("name", "least"),
        [("hall_boot_bench", 18), ("step_stool", 16), ("tool_tray", 20)],
    )
    def test_slots_equal_the_overlap_of_the_solved_boxes(self, name, least):
        assert check_slots_match_the_boxes(solved(demo(name))) >= least

    @settings(deadline=None, max_examples=30)  # a busy machine is no failure
    @given(
        poplar=st.lists(st.integers(700, 800), min_size=1, max_size=3),
        shelf=st.integers(700, 800),
    )
    def test_they_do_whatever_was_read(self, poplar, shelf):
        readings = {
            "stock": {"poplar34": [f"0.{reading}" for reading in poplar]},
            "parts": {"shelf": {"thickness": [f"0.{shelf}"]}},
        }
        assert check_slots_match_the_boxes(solved(demo("hall_boot_bench"), readings))

    def test_pairs_come_together(self):
        sheets = part_sheets(solved(demo("step_stool")))
        pairs = [[p.key for p in sheet.parts] for sheet in sheets]

        assert ["left_front_leg", "right_front_leg"] in pairs
        assert ["left_low_rail", "right_low_rail"] in pairs
        assert ["stretcher"] in pairs

    def test_a_mortise_lies_inside_the_rail(self):
        work = works(solved(demo("hall_boot_bench")))["left_side"]
        mortise = marks(work)["rail_left", "slot"]

        assert (mortise.title, mortise.other) == ("Mortise", "Back rail")
        # 18 - 3/4 less the 3 1/2 rail and its 1/2 edge shoulders; from the back of
        # the 14 the 3/4 rail and its 1/4 shoulder.
        assert mortise.u == (inches("57/4"), inches("67/4"))
        assert mortise.v == (inches("27/2"), inches("27/2") + inches("51/200"))
        assert mortise.depth_mm == inches("9/16")
        assert not mortise.through

    def test_a_tenon_is_shown_on_the_wide_face_and_the_edge(self):
        work = works(solved(demo("hall_boot_bench")))["back_rail"]
        wide, edge = work.faces

        assert (wide.face, edge.face) == ("front", "top")
        assert len(wide.outline) == len(edge.outline) == 12
        tenon = marks(work, "top")["rail_left", "tenon"]
        assert tenon.u == (0, inches("1/2"))
        assert tenon.v == (inches("1/4"), inches("1/2"))

    def test_a_stopped_shelf_is_notched(self):
        work = works(solved(demo("hall_boot_bench")))["shelf"]
        [top] = work.faces
        left = marks(work)["shelf_left", "notch"]

        assert left.u == (0, inches("3/8"))
        assert left.v == (0, inches("1/2"))
        assert len(top.outline) == 8

    def test_a_lap_leaves_open_from_which_face(self):
        work = works(solved(demo("step_stool")))["left_front_leg"]
        [face] = work.faces

        assert {face.face, face.either} == {"left", "right"}
        assert [m.depth_mm for m in face.marks] == [inches("3/8")] * 2

    def test_dowel_holes_lie_where_the_parts_touch(self):
        solution = solved(demo("step_stool"))
        work = works(solution)["left_low_rail"]
        holes = marks(work, "right")["stretcher_left", "holes"]
        overlap = local_overlap(solution, "stretcher", "left_low_rail")

        assert holes.u == overlap["y"]
        assert holes.v == overlap["z"]

    def test_a_groove_that_may_run_out_says_so(self):
        work = works(solved(demo("tool_tray")))["front_side"]
        groove = marks(work)["bottom_front", "slot"]

        assert (groove.low, groove.high) == ("guest", "guest")

    def test_a_plain_part_has_one_plain_face(self):
        [face] = works(solved(demo("hall_boot_bench")))["toe_board"].faces

        assert face.marks == ()
        assert face.face == "front"


class TestTurn:
    @pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
    def test_no_face_is_mirrored(self, name):
        """Right, up and towards the viewer turn like x, y and z."""
        order = "xyz"
        for work in works(solved(demo(name))).values():
            for seen in work.faces:
                signs, axes = [], []
                for ends, back in (
                    (seen.u_ends, seen.u_reversed),
                    (seen.v_ends, seen.v_reversed),
                ):
                    axes.append(order.index(FACES[ends[0]][0]))
                    signs.append(-1 if back else 1)
                axis, high = FACES[seen.face]
                axes.append(order.index(axis))
                signs.append(1 if high else -1)
                turns = (axes[1] - axes[0]) % 3 == 1
                handed = signs[0] * signs[1] * signs[2] * (1 if turns else -1)
                assert handed == 1

    def test_a_pair_mirrors_across_the_line_between(self):
        for sheet in part_sheets(solved(demo("step_stool"))):
            for row in sheet.rows:
                if len(row) < 2:
                    continue
                for one, other in zip(row[0].marks, row[1].marks, strict=True):
                    places = []
                    for face, mark in zip(row, (one, other), strict=True):
                        whole_u, whole_v = face.width_mm, face.height_mm
                        u, v = mark.u, mark.v
                        if face.u_reversed:
                            u = (whole_u - u[1], whole_u - u[0])
                        if face.v_reversed:
                            v = (whole_v - v[1], whole_v - v[0])
                        places.append((u, v))
                    (u1, v1), (u2, v2) = places
                    whole = row[0].height_mm
                    assert all(map(close, u1, u2))
                    assert all(map(close, v1, (whole - v2[1], whole - v2[0])))


class TestPairs:
    def test_a_pair_along_the_length_is_turned_end_for_end(self):
        solution = solved(_rails_in_line())
        rails, *_posts = part_sheets(solution)

        assert [p.key for p in rails.parts] == ["left_rail", "right_rail"]
        [left], [right] = (p.faces for p in rails.parts)
        assert (left.u_reversed, right.u_reversed) == (False, True)
        assert right.v_reversed is not left.v_reversed

    def test_a_pair_that_is_no_mirror_image_is_drawn_apart(self):
        plan = boot_bench()
        plan["joints"][1]["kind"] = "butt"
        del plan["joints"][1]["depth"]
        sheets = part_sheets(solved(plan))

        assert [len(sheet.parts) for sheet in sheets] == [1, 1, 1]

    def test_boards_of_another_thickness_are_a_pair_still(self):
        readings = {"parts": {"left_side": {"thickness": ["0.72"]}}}
        sheets = part_sheets(solved(boot_bench(), readings))

        assert [len(sheet.parts) for sheet in sheets] == [2, 1]


def _rails_in_line():
    """Two rails end to end, a post housed in each, 5 from the far end."""
    keys = ("left_rail", "right_rail", "post_1", "post_2")
    return data(
        [
            part("left_rail", "xyz", pair="right_rail"),
            part("right_rail", "xyz", pair="left_rail"),
            part("post_1", "zyx"),
            part("post_2", "zyx"),
        ],
        joints=[
            joint("one", "dado", "post_1.bottom", "left_rail.top", depth="3/8"),
            joint("two", "dado", "post_2.bottom", "right_rail.top", depth="3/8"),
        ],
        distances=[
            size("left_rail", "length", "xyz", 20),
            size("right_rail", "length", "xyz", 20),
            size("left_rail", "width", "xyz", 3),
            size("post_1", "length", "zyx", 9),
            size("post_2", "length", "zyx", 9),
            distance("near", "left_rail.left", "post_1.left", 5),
            distance("far", "post_2.right", "right_rail.right", 5),
        ],
        flush=[
            ["left_rail.right", "right_rail.left"],
            ["left_rail.bottom", "right_rail.bottom"],
            [f"{key}.front" for key in keys],
            [f"{key}.back" for key in keys],
        ],
    )


class TestUnfixed:
    def test_a_slot_the_plan_does_not_place_is_told_in_words(self):
        plan = boot_bench()
        plan["distances"] = [d for d in plan["distances"] if d["key"] != "shelf_height"]
        solution = solved(plan)
        work = part_work(solution, solution.plan.part_by_key["left_side"])
        [note] = work.notes

        assert note.why == "the plan doesn't say how far from the bottom"
        assert [m.mm for m in note.measures] == [inches("0.755"), inches("3/8")]
        assert all(not face.marks for face in work.faces)

    def test_a_slot_past_its_host_is_told_in_words(self):
        plan = boot_bench()
        for entry in plan["distances"]:
            if entry["key"] == "shelf_height":
                entry["value"] = "19"
        solution = solved(plan)
        [note] = part_work(solution, solution.plan.part_by_key["left_side"]).notes

        assert note.why == "the plan puts it past the part, bottom to top"


def bench_with(kind, *, without=(), **more):
    """Return the boot bench with its left joint of another kind."""
    plan = boot_bench()
    left = plan["joints"][0]
    plan["joints"][0] = joint("shelf_left", kind, left["guest"], left["host"], **more)
    plan["distances"] = [d for d in plan["distances"] if d["key"] not in without]
    return plan


def work_of(plan, key):
    solution = solved(plan)
    return part_work(solution, solution.plan.part_by_key[key])


class TestOtherJoints:
    def test_a_slot_may_stop_at_its_far_end(self):
        stops = [{"at": "back", "by": "2"}]
        plan = bench_with("dado", depth="3/8", stops=stops)
        dado = marks(work_of(plan, "left_side"))["shelf_left", "slot"]
        notch = marks(work_of(plan, "shelf"))["shelf_left", "notch"]

        assert dado.v == (0, inches(12))
        assert (dado.low, dado.high) == ("open", "stopped")
        assert notch.v == (inches(12), inches(14))

    def test_a_shelf_that_stands_back_further_than_the_stop_needs_no_notch(self):
        stops = [{"at": "front", "by": "1/2"}]
        plan = bench_with("dado", depth="3/8", stops=stops)
        plan["joints"][1]["stops"] = stops
        front = ["left_side.front", "shelf.front", "right_side.front"]
        plan["flush"].remove(front)
        plan["flush"].append([front[0], front[2]])
        plan["distances"].append(distance("back", front[0], front[1], 1))
        [face] = work_of(plan, "shelf").faces

        assert face.marks == ()
        assert len(face.outline) == 4

    def test_dowels_the_plan_does_not_place_are_told_in_words(self):
        dowels = {"diameter": "3/8", "length": "1", "count": 3}
        plan = bench_with("dowel", without=["shelf_height"], dowels=dowels)
        [note] = work_of(plan, "left_side").notes

        assert note.why == "the plan doesn't say where the parts touch"
        assert [m.name for m in note.measures] == ["3 holes, diameter", "hole depth"]

    def test_dowels_without_sizes_cut_nothing(self):
        work = work_of(bench_with("dowel"), "left_side")

        assert work.notes == ()
        assert not any(face.marks for face in work.faces)

    def test_a_tenon_along_an_edge_leaves_shoulders_at_both_ends(self):
        plan = data(
            [part("panel", "xzy"), part("rail", "xyz")],
            joints=[
                joint("edge", "tenon", "panel.bottom", "rail.top", depth="1/4",
                      tenon={"thickness": "1/4", "edge_shoulder": "1"}),
            ],
            distances=[
                size("panel", "length", "xzy", 20),
                size("panel", "width", "xzy", 8),
                size("rail", "length", "xyz", 24),
                size("rail", "width", "xyz", 3),
                distance("in", "rail.left", "panel.left", 2),
                distance("back", "rail.front", "panel.front", 1),
            ],
        )  # fmt: skip
        [face] = work_of(plan, "panel").faces
        [mortise] = work_of(plan, "rail").faces[0].marks

        assert face.face == "front"
        assert (0, inches("1/4")) in face.outline
        assert (inches(1), 0) in face.outline
        assert mortise.u == (inches(3), inches(21))

    def test_a_lap_not_from_a_wide_face_is_told_in_words(self):
        plan = data(
            [part("guest", "yzx"), part("host", "yzx")],
            joints=[joint("lap", "half_lap", "guest.left", "host.right", depth="1/4")],
            distances=[
                size("guest", "length", "yzx", 9),
                size("guest", "width", "yzx", 3),
                size("host", "length", "yzx", 9),
                size("host", "width", "yzx", 3),
            ],
        )

        assert work_of(plan, "guest").notes[0].why == "it is not cut from a wide face"
        assert work_of(plan, "host").notes[0].title == "Lap"

    def test_a_lap_past_its_host_is_told_in_words(self):
        plan = demo("step_stool")
        for entry in plan["distances"]:
            if entry["key"] == "low_rail_height":
                entry["value"] = "12"
        [note] = work_of(plan, "left_front_leg").notes

        assert note.why == "the plan puts it past the part, bottom to top"

    def test_a_guest_that_lies_flat_takes_all_it_covers(self):
        plan = data(
            [part("panel", "xzy"), part("board", "xzy")],
            joints=[joint("inlay", "groove", "panel.back", "board.front", depth="1/4")],
            distances=[
                size("panel", "length", "xzy", 6),
                size("panel", "width", "xzy", 2),
                size("board", "length", "xzy", 20),
                size("board", "width", "xzy", 8),
                distance("in", "board.left", "panel.left", 3),
                distance("up", "board.bottom", "panel.bottom", 1),
            ],
        )
        [mark] = work_of(plan, "board").faces[0].marks

        assert mark.u == (inches(3), inches(9))
        assert mark.v == (inches(1), inches(3))

    def test_a_pair_with_another_kind_of_cut_is_drawn_apart(self):
        sheets = part_sheets(solved(bench_with("rabbet", depth="3/8")))

        assert [len(sheet.parts) for sheet in sheets] == [1, 1, 1]


class TestTheBenchFromOutside:
    """Stopped dadoes hide the shelf's end, through ones and rabbets show the guest."""

    @staticmethod
    def edges_at(solution, x, low, high):
        """Return the upright stretches seen from the front at x, between heights."""
        faces = project(boxes(solution), view="front")
        start = min(face.u[0] for face in faces)
        sight = look(faces, housed=housed(solution))
        return [
            segment
            for segment in sight.segments
            if segment.along == "v"
            and not segment.hidden
            and segment.at - start == x
            and segment.low < high
            and low < segment.high
        ]

    def test_a_stopped_dado_hides_the_end_of_the_shelf(self):
        solution = solved(demo("hall_boot_bench"))
        span = (inches(3), inches("15/4"))

        assert self.edges_at(solution, inches("3/8"), *span) == []
        # The side's inner edge runs past the shelf.
        assert self.edges_at(solution, inches("3/4"), *span)

    def test_a_through_dado_shows_it(self):
        plan = copy.deepcopy(demo("hall_boot_bench"))
        for entry in plan["joints"]:
            entry.pop("stops", None)
        solution = solved(plan)
        span = (inches(3), inches("15/4"))

        assert self.edges_at(solution, inches("3/8"), *span)
        assert self.edges_at(solution, inches("3/4"), *span) == []

    def test_a_rabbet_shows_the_seat(self):
        solution = solved(demo("hall_boot_bench"))
        span = (inches("69/4"), inches(18))

        assert self.edges_at(solution, inches("3/8"), *span)
        assert self.edges_at(solution, inches("3/4"), *span) == []

    def test_the_picture_agrees(self):
        def shows_end_of_shelf(plan):
            solution = solved(plan)
            piece = boxes(solution)
            shelf = next(box for box in piece if box.key == "shelf")
            u = float(shelf.x[0] + shelf.y[0]) * sqrt(3) / 2
            v = float(shelf.z[0] + (shelf.y[0] - shelf.x[0]) / 2)
            strokes = lines(solids(piece, housed=housed(solution))).seen
            ends = (u, v, u, v + float(inches("3/4")))
            return any(
                (line.u1, line.v1, line.u2, line.v2) == pytest.approx(ends)
                for line in strokes
            )

        stopped = demo("hall_boot_bench")
        through = copy.deepcopy(stopped)
        for entry in through["joints"]:
            entry.pop("stops", None)

        assert shows_end_of_shelf(through)
        assert not shows_end_of_shelf(stopped)
