from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings

from projects.engine.drawing import DrawingError, part_drawing, part_words, svg
from projects.engine.drawing.worked import PartSheet
from tests.engine.drawing.pieces import INCH, inches
from tests.engine.drawing.test_pictorial import check_legible
from tests.engine.drawing.worked_parts import (
    NOTE,
    dado,
    face,
    pair,
    part,
    show,
    tenoned,
    worked_sheets,
)

SPACE = "{http://www.w3.org/2000/svg}"
HOSTILE = "\"><script>alert(1)</script>&\x00\u202e'"


def words(picture, kind):
    return [text.words for text in picture.texts if text.kind == kind]


class TestPartDrawing:
    @pytest.mark.parametrize(("width_mm", "text_mm"), [(180, 4.3), (94.7, 3.4)])
    @pytest.mark.parametrize("sheet", [pair(), tenoned()])
    def test_keeps_to_the_page(self, sheet, width_mm, text_mm):
        picture = part_drawing(sheet, show=show, width_mm=width_mm, text_mm=text_mm)

        for text in picture.texts:
            assert text.area.u1 >= picture.page.u1
            assert text.area.u2 <= picture.page.u2
        page_mm = (picture.page.u2 - picture.page.u1) / picture.unit
        assert page_mm == pytest.approx(width_mm, abs=text_mm)

    def test_a_single_face_is_legible(self):
        check_legible(part_drawing(PartSheet(parts=pair().parts[:1]), show=show))

    @settings(deadline=None, max_examples=60)  # a busy machine is no failure
    @given(sheet=worked_sheets())
    def test_any_part_can_be_drawn(self, sheet):
        picture = part_drawing(sheet, show=show)
        marks = sheet.parts[0].faces[0].marks

        assert len(picture.shapes) == len(marks)
        assert picture.unit >= 1

    def test_cuts_lie_at_their_true_place_and_size(self):
        # Our own output, just written.
        text = svg(part_drawing(pair(), show=show))
        root = ElementTree.fromstring(text)  # noqa: S314
        left, right = root.iter(f"{SPACE}polygon")

        for slot in (left, right):
            assert slot.get("data-u") == "152.4 171.45"
            assert slot.get("data-v") == "12.7 355.6"
            corners = [
                tuple(map(float, at.split(","))) for at in slot.attrib["points"].split()
            ]
            us, vs = zip(*corners, strict=True)
            assert max(us) - min(us) == pytest.approx(float(inches("3/4")), abs=0.01)
            assert max(vs) - min(vs) == pytest.approx(float(inches("27/2")), abs=0.01)
            assert min(us) == pytest.approx(float(inches(6)), abs=0.01)
        assert left.get("data-slot") == "shelf_left"

    def test_a_pair_lies_mirrored_at_the_line_between(self):
        picture = part_drawing(pair(), show=show)
        [axis] = {(line.v1, line.v2) for line in picture.chained}
        left, right = picture.shapes

        assert axis[0] == axis[1]
        assert {(round(u, 6), round(2 * axis[0] - v, 6)) for u, v in left.corners} == {
            (round(u, 6), round(v, 6)) for u, v in right.corners
        }
        assert "mirror" in words(picture, "end")
        assert picture.caption == "Left side and Right side, a mirrored pair"

    def test_sizes_along_the_length_stand_once_for_a_pair(self):
        assert words(part_drawing(pair(), show=show), "size").count("18") == 1

    def test_sizes_that_differ_stand_at_both(self):
        sheet = pair()
        longer = part(
            [face([dado(joint="shelf_right")], name="left", width=19)],
            key="right_side",
            name="Right side",
        )
        picture = part_drawing(PartSheet(parts=(sheet.parts[0], longer)), show=show)

        assert {"18", "19"} <= set(words(picture, "size"))

    def test_the_ends_are_named(self):
        picture = part_drawing(PartSheet(parts=pair().parts[:1]), show=show)

        assert set(words(picture, "end")) == {"bottom", "top", "front", "back"}
        # Seen at its right face the front is up where the bottom is to the left.
        at = {t.words: t.area for t in picture.texts if t.kind == "end"}
        assert at["bottom"].u2 < at["top"].u1
        assert at["back"].v2 < at["front"].v1

    def test_a_tenon_stands_out_of_the_outline(self):
        picture = part_drawing(tenoned(), show=show)
        root = {(line.u1, line.v1, line.u2, line.v2) for line in picture.visible}
        shoulder = float(INCH)

        assert any(u1 == u2 == pytest.approx(shoulder) for u1, _, u2, _ in root)
        assert len([d for d in words(picture, "size") if d == "1"]) == 2

    def test_a_cut_seen_on_two_faces_is_explained_once(self):
        [rail] = tenoned().parts
        [face_] = rail.faces
        edge = replace(face_, face="top")
        sheet = PartSheet(parts=(replace(rail, faces=(face_, edge)),))
        lines = [line.letter for line in part_words(sheet, show=show).lines]

        assert lines == ["", "A", "B"]

    def test_a_word_too_long_for_its_line_is_cut(self):
        sheet = PartSheet(parts=(part([face([])], name="W" * 200),))
        picture = part_drawing(sheet, show=show)
        [title] = words(picture, "caption")

        assert title.endswith("…")

    def test_words_can_be_left_to_the_page(self):
        picture = part_drawing(pair(), show=show, words=False)

        assert words(picture, "caption") == []
        assert "stops 1/2 from the front" in picture.description

    def test_what_can_not_be_drawn_is_told(self):
        sheet = PartSheet(parts=(part([face([])], notes=[NOTE]),))
        picture = part_drawing(sheet, show=show)

        assert "Not drawn: Dado for Shelf" in picture.description

    def test_holes_are_dashed(self):
        holes = dado(kind="holes", low="stopped", high="stopped", depth_mm=None)
        sheet = PartSheet(parts=(part([face([holes])]),))

        assert len(part_drawing(sheet, show=show).hidden) == 4

    def test_names_are_escaped_and_nothing_is_styled(self):
        sheet = PartSheet(parts=(part([face([dado(other=HOSTILE)])], name=HOSTILE),))
        text = svg(part_drawing(sheet, show=show))
        # Our own output, just written.
        root = ElementTree.fromstring(text)  # noqa: S314

        assert "<script" not in text
        assert "style" not in text
        assert root.get("role") == "img"
        title = root.findtext(f"{SPACE}title") or ""
        assert title.startswith('"><script>alert(1)')

    @pytest.mark.parametrize("name", ["width_mm", "height_mm", "text_mm"])
    def test_a_page_without_size_is_refused(self, name):
        sizes = {"width_mm": 180.0, "height_mm": 230.0, "text_mm": 4.3, name: 0.0}
        with pytest.raises(DrawingError, match=f"{name} must be above 0 mm"):
            part_drawing(
                pair(),
                show=show,
                width_mm=sizes["width_mm"],
                height_mm=sizes["height_mm"],
                text_mm=sizes["text_mm"],
            )
