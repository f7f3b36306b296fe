from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings

from projects.engine.drawing import (
    DrawingError,
    overall_dimensions,
    pictorial,
    svg,
)
from projects.engine.drawing.page import inside
from tests.engine.drawing.pieces import BENCH_HOUSED, bench, box, boxes

SPACE = "{http://www.w3.org/2000/svg}"


def overall(parts):
    return overall_dimensions(parts, show=lambda mm: f"{float(mm):.0f} mm")


def check_legible(picture):
    """Check that texts meet neither each other nor a line, and lie on the page."""
    areas = [text.area for text in picture.texts]
    for one, other in combinations(areas, 2):
        assert not one.meets(other)
    for area in areas:
        lines = (*picture.visible, *picture.thin, *picture.ticks)
        assert not any(inside(line, area.grown(-1e-6)) for line in lines)
        assert area.u1 >= picture.page.u1
        assert area.u2 <= picture.page.u2
        assert area.v1 >= picture.page.v1
        assert area.v2 <= picture.page.v2


class TestPictorial:
    @pytest.mark.parametrize(("width_mm", "text_mm"), [(180, 4.3), (94.7, 3.4)])
    def test_the_bench_is_legible(self, width_mm, text_mm):
        picture = pictorial(
            bench(),
            housed=BENCH_HOUSED,
            overall=overall(bench()),
            width_mm=width_mm,
            text_mm=text_mm,
        )

        check_legible(picture)
        page_mm = (picture.page.u2 - picture.page.u1) / picture.unit
        assert page_mm == pytest.approx(width_mm, abs=text_mm)

    @settings(deadline=None, max_examples=60)  # a busy machine is no failure
    @given(parts=boxes())
    def test_any_piece_is_legible(self, parts):
        check_legible(pictorial(parts, overall=overall(parts)))

    def test_every_part_that_shows_is_named(self):
        picture = pictorial(bench())
        names = {text.words for text in picture.texts if text.kind == "name"}

        # The rail lies behind the seat's front edge, as seen from above.
        assert names == {part.name for part in bench()} - {"Back rail"}

    def test_a_part_that_does_not_show_is_told_in_words(self):
        parts = [
            box("case", (0, 9), (0, 9), (0, 9)),
            box("cleat", (2, 4), (2, 4), (2, 3)),
        ]
        picture = pictorial(parts)

        assert "Hidden: Cleat." in picture.description
        assert "Cleat" not in [text.words for text in picture.texts]

    def test_hidden_lines_are_drawn_only_if_asked_for(self):
        assert pictorial(bench()).hidden == ()
        assert len(pictorial(bench(), hidden=True).hidden) > 20

    def test_sizes_are_told_in_words_too(self):
        picture = pictorial(bench(), overall=overall(bench()))

        assert "Overall width 914 mm" in picture.description
        assert {"914 mm", "356 mm", "457 mm"} <= {t.words for t in picture.texts}

    def test_the_drawing_holds_the_boxes(self):
        # Our own output, just written.
        root = ElementTree.fromstring(svg(pictorial(bench())))  # noqa: S314
        found = {p.get("data-part"): p for p in root.iter(f"{SPACE}polygon")}

        assert set(found) == {part.key for part in bench()}
        for part in bench():
            for axis in "xyz":
                ends = found[part.key].attrib[f"data-{axis}"].split()
                for end, wanted in zip(ends, getattr(part, axis), strict=True):
                    assert float(end) == pytest.approx(float(wanted), abs=0.01)

    def test_nothing_to_draw_is_refused(self):
        with pytest.raises(DrawingError, match="the piece has no parts"):
            pictorial([])

    def test_a_key_twice_is_refused(self):
        part = box("a", (0, 1), (0, 1), (0, 1))
        with pytest.raises(DrawingError, match="a: drawn twice"):
            pictorial([part, part])

    @pytest.mark.parametrize("name", ["width_mm", "height_mm", "text_mm"])
    def test_a_page_without_size_is_refused(self, name):
        sizes = {"width_mm": 180.0, "height_mm": 200.0, "text_mm": 4.3, name: 0.0}
        with pytest.raises(DrawingError, match=f"{name} must be above 0 mm"):
            pictorial(
                bench(),
                width_mm=sizes["width_mm"],
                height_mm=sizes["height_mm"],
                text_mm=sizes["text_mm"],
            )
