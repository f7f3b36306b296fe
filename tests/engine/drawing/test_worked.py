from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projects.engine.drawing import DrawingError, part_words
from projects.engine.drawing.turned import Turned
from projects.engine.drawing.worked import PartSheet, outline
from tests.engine.drawing.pieces import inches
from tests.engine.drawing.worked_parts import (
    NOTE,
    dado,
    face,
    pair,
    part,
    show,
    span,
    tenoned,
)


def area_of(corners):
    """Return a polygon's area, by the sum over its corners."""
    pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def words_of(mark, **more):
    sheet = PartSheet(parts=(part([face([mark], **more)]),))
    return part_words(sheet, show=show).lines[1].words


class TestOutline:
    def test_a_plain_face_has_four_corners(self):
        corners = outline(Fraction(5), Fraction(2), {})

        assert [(int(u), int(v)) for u, v in corners] == [
            (0, 0),
            (5, 0),
            (5, 2),
            (0, 2),
        ]

    @given(data=st.data())
    def test_notches_take_what_they_cover(self, data):
        size = st.integers(1, 4).map(Fraction)
        notch = st.lists(st.tuples(size, size), max_size=3)
        ends = [(u, v) for u in (False, True) for v in (False, True)]
        notches = {end: data.draw(notch) for end in ends}
        corners = outline(Fraction(9), Fraction(9), notches)
        gone = sum(
            any(u < du and v < dv for du, dv in cut)
            for cut in notches.values()
            for u in range(4)
            for v in range(4)
        )

        assert area_of(corners) == 81 - gone


class TestSlotMark:
    def test_one_without_width_is_refused(self):
        with pytest.raises(DrawingError, match="Dado for Shelf: must end after"):
            dado(u=span(6, 6))


class TestTurned:
    def test_a_deeper_cut_shows_through_a_shallower_one(self):
        shallow = dado(u=span(2, 10), v=span(2, 10), depth_mm=inches("1/4"))
        deep = dado(u=span(4, 6), v=span(0, 14), depth_mm=inches("1/2"))
        turned = Turned(face=face([shallow, deep]), show=show)

        def crosses(line, u):
            return min(line.u1, line.u2) < u < max(line.u1, line.u2)

        inside_deep = float(inches(5))
        levels = {
            line.v1
            for line in turned.edges
            if line.v1 == line.v2 and crosses(line, inside_deep)
        }
        # Of the shallow cut nothing is left in the deep one.
        assert levels == {0.0, float(inches(14))}

    def test_sizes_start_at_the_named_end_either_way_round(self):
        for reverse in (False, True):
            turned = Turned(face=face([dado()], u_reversed=reverse), show=show)
            found = {(d.text, d.low, d.high) for d in turned.dimensions}
            ends = span(12, 18) if reverse else span(0, 6)

            assert ("6", *ends) in found

    def test_a_stop_is_measured_and_an_open_end_is_not(self):
        texts = [d.text for d in Turned(face=face([dado()]), show=show).dimensions]

        assert sorted(texts) == sorted(["18", "14", "3/4", "6", "1/2"])


class TestPartWords:
    def test_a_stopped_dado(self):
        assert words_of(dado()) == (
            "Dado for Shelf: 3/4 wide, 3/8 deep, 6 from the bottom; "
            "stops 1/2 from the front"
        )

    def test_where_the_plan_leaves_the_end_open_it_says_so(self):
        mark = dado(v=span(0, 13), low="open", high="guest")
        assert words_of(mark).endswith("; ends 1 from the back, or runs out there")

    def test_a_mortise_is_placed_both_ways(self):
        mark = dado(title="Mortise", v=span(2, 4), low="stopped", high="stopped")
        assert words_of(mark) == (
            "Mortise for Shelf: 3/4 wide, 2 long, 3/8 deep, "
            "6 from the bottom, 2 from the front"
        )

    def test_a_cut_right_through(self):
        assert "right through" in words_of(dado(through=True))

    def test_a_lap_on_either_face(self):
        mark = dado(title="Lap", v=span(0, 14), low="open", u=span("69/4", 18))
        assert words_of(mark, either="left") == (
            "Lap for Shelf: 3/4 wide, 3/8 deep, 69/4 from the bottom on, out at the "
            "top; the plan leaves open from which face"
        )

    def test_a_notch(self):
        mark = dado(kind="notch", title="Notch", u=span(0, 1), v=span(12, 14))
        assert words_of(mark) == "Notch for Shelf: 1 by 2, at the bottom back corner"

    def test_holes(self):
        assert "in the dashed area, the plan doesn't say where" in words_of(
            dado(kind="holes")
        )

    def test_the_two_of_a_pair_share_a_letter_and_a_line(self):
        lines = part_words(pair(), show=show).lines

        assert [line.letter for line in lines] == ["", "A"]
        assert lines[0].words.startswith("Each 1 of 3/4 in poplar: 18 long")

    def test_the_two_of_a_pair_are_told_apart_where_they_differ(self):
        lines = part_words(pair(other_depth="1/4"), show=show).lines

        assert [line.letter for line in lines] == ["", "A", "A"]
        assert lines[1].words.startswith("Left side, dado for Shelf: 3/4 wide, 3/8")
        assert lines[2].words.startswith("Right side, dado for Shelf: 3/4 wide, 1/4")

    def test_parts_of_other_sizes_are_told_apart(self):
        first, second = pair().parts
        other = part(second.faces, key="right_side", name="Right side", notes=[NOTE])
        sheet = PartSheet(parts=(first, replace(other, width_mm=inches(13))))
        lines = [line.words for line in part_words(sheet, show=show).lines]

        assert lines[0].startswith("Left side: 1 of 3/4 in poplar: 18 long, 14 wide")
        assert lines[1].startswith("Right side: 1 of 3/4 in poplar: 18 long, 13 wide")
        assert lines[-1] == (
            "Not drawn: Right side: Dado for Shelf, width 3/4; "
            "the plan doesn't say how far from the bottom"
        )

    def test_a_plain_part(self):
        sheet = PartSheet(parts=(part([face([])]),))
        words = part_words(sheet, show=show)

        assert words.title == "Left side"
        assert words.lines[-1].words == "Nothing is cut on its faces."

    def test_tenons(self):
        lines = part_words(tenoned(), show=show).lines

        assert [line.letter for line in lines] == ["", "A", "B"]
        assert lines[1].words == "Tenon for Leg: tenon length 1"
