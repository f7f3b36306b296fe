from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.drawing import (
    Box,
    Dimension,
    DrawingError,
    elevation,
    overall_dimensions,
)
from projects.engine.drawing.page import inside, line_of, text_width
from tests.engine.drawing.pieces import (
    BENCH_HOUSED,
    INCH,
    bench,
    bench_dimensions,
    box,
    boxes,
    dimension,
)

VIEWS = ("front", "side", "top")


def panel(x, y, z):
    spans = {
        a: (Fraction(0), Fraction(s)) for a, s in zip("xyz", (x, y, z), strict=True)
    }
    return Box(key="panel", name="Panel", **spans)


def check_legible(drawing):
    """Check that texts meet neither each other nor a line, and lie on the page."""
    areas = [text.area for text in drawing.texts]
    for one, other in combinations(areas, 2):
        assert not one.meets(other)
    for area in areas:
        assert not any(line_of(s).meets(area) for s in drawing.sight.segments)
        assert not any(
            inside(line, area.grown(-1e-6)) for line in (*drawing.thin, *drawing.ticks)
        )
        assert area.u1 >= drawing.page.u1
        assert area.u2 <= drawing.page.u2
        assert area.v1 >= drawing.page.v1
        assert area.v2 <= drawing.page.v2


def words(drawing, kind):
    return [text.words for text in drawing.texts if text.kind == kind]


class TestElevation:
    @pytest.mark.parametrize("view", VIEWS)
    @pytest.mark.parametrize(("width_mm", "text_mm"), [(180, 4.3), (94.7, 3.4)])
    def test_the_bench_is_legible(self, view, width_mm, text_mm):
        drawing = elevation(
            bench(),
            view=view,
            dimensions=bench_dimensions(),
            housed=BENCH_HOUSED,
            width_mm=width_mm,
            text_mm=text_mm,
        )

        check_legible(drawing)
        page_mm = (drawing.page.u2 - drawing.page.u1) / drawing.unit
        assert page_mm == pytest.approx(width_mm, abs=text_mm)
        assert drawing.text_size / drawing.unit == pytest.approx(text_mm)

    @pytest.mark.parametrize("view", VIEWS)
    @settings(deadline=None)  # a busy machine is no failure
    @given(parts=boxes(), data=st.data())
    def test_any_piece_is_legible(self, view, parts, data):
        edges = [
            (axis, low, high)
            for axis in "xyz"
            for low, high in combinations(
                sorted({end for p in parts for end in getattr(p, axis)}), 2
            )
        ]
        chosen = data.draw(st.lists(st.sampled_from(edges), max_size=9, unique=True))
        text = st.sampled_from(["5", "3/4", "16 7/8", "10 3/4 full"])
        dimensions = [
            Dimension(axis=axis, low=low, high=high, text=data.draw(text))
            for axis, low, high in chosen
        ]
        drawing = elevation(parts, view=view, dimensions=dimensions)

        check_legible(drawing)
        across_up = {"front": "xz", "side": "yz", "top": "xy"}[view]
        shown = sorted(d.text for d in dimensions if d.axis in across_up)
        assert sorted(words(drawing, "size")) == shown

    def test_every_seen_part_of_the_bench_is_named(self):
        drawing = elevation(bench(), housed=BENCH_HOUSED)

        assert set(words(drawing, "name")) == {part.name for part in bench()}

    def test_long_names_make_room_for_numbers(self):
        parts = [
            box(
                "a", (0, 20), (0, 1), (0, "1/2"), name="Board under the seat, left half"
            ),
            box("b", (0, 20), (0, 1), ("1/2", 1), name="Board"),
        ]
        drawing = elevation(parts)

        assert sorted(words(drawing, "name")) == ["1", "2"]
        assert words(drawing, "legend") == [
            "1  Board",
            "2  Board under the seat, left half",
        ]

    def test_a_hidden_part_is_named_at_its_dashed_outline(self):
        drawing = elevation(
            [box("front", (0, 9), (0, 1), (0, 9)), box("cleat", (2, 4), (1, 2), (2, 3))]
        )

        assert sorted(words(drawing, "name")) == ["Cleat", "Front"]
        assert "Hidden, dashed: Cleat." in drawing.description

    def test_a_leader_ends_where_the_part_shows_best(self):
        parts = [
            box("door", (0, 10), (0, 1), (0, 20), name="Door"),
            # Shows as a sliver above the door and as a strip to its right.
            box("case", (0, "21/2"), (1, 9), (0, "2001/100"), name="Case"),
        ]
        drawing = elevation(parts)

        assert [text.words for text in drawing.texts][:2] == ["Door", "Case"]
        [(u, v)] = drawing.dots
        assert 10 * INCH < u < Fraction(21, 2) * INCH
        assert 0 < v < 20 * INCH

    def test_a_part_without_a_name_goes_by_its_key(self):
        blank = panel(400, 300, 300)
        drawing = elevation(
            [Box(key="slat", name="\n", x=blank.x, y=blank.y, z=blank.z)]
        )

        assert words(drawing, "name") == ["slat"]

    def test_the_side_view_has_the_front_edge_to_the_left(self):
        drawing = elevation(
            [box("a", (0, 1), (0, 4), (0, 4)), box("knob", (1, 2), (0, 1), (0, 1))],
            view="side",
        )

        knob = next(face for face in drawing.faces if face.key == "knob")
        assert knob.u == (Fraction(0), INCH)
        assert not any(s.hidden for s in drawing.sight.segments)
        assert drawing.caption == "From the right side"

    def test_the_top_view_has_the_back_edge_up(self):
        drawing = elevation(
            [box("a", (0, 4), (0, 4), (0, 1)), box("rail", (0, 4), (3, 4), (1, 2))],
            view="top",
        )

        rail = next(face for face in drawing.faces if face.key == "rail")
        assert rail.v == (3 * INCH, 4 * INCH)
        assert not any(s.hidden for s in drawing.sight.segments)

    def test_the_overall_size_stands_outermost(self):
        drawing = elevation(bench(), dimensions=bench_dimensions())
        heights = {t.words: t.area.v1 for t in drawing.texts if not t.rotated}

        assert heights["36"] < heights["16 7/8"]

    def test_the_same_size_twice_is_drawn_once(self):
        twice = [dimension("x", 0, 36, "36"), dimension("x", 0, 36, "36")]

        assert words(elevation(bench(), dimensions=twice), "size") == ["36"]

    def test_another_view_can_be_drawn_no_larger(self):
        front = elevation(bench())
        side = elevation(bench(), view="side", least_unit=front.unit)

        assert side.unit == front.unit

    @pytest.mark.parametrize(
        "sizes", [(20000, 1, 1), (1, 20000, 20000), (1, 1, 1), (20000, 20000, 20000)]
    )
    @pytest.mark.parametrize("view", VIEWS)
    def test_extreme_pieces_keep_to_the_page(self, sizes, view):
        piece = [panel(*sizes)]
        overall = overall_dimensions(piece, show=lambda mm: f"{mm} mm full")
        drawing = elevation(piece, view=view, dimensions=overall)

        check_legible(drawing)
        assert (drawing.page.u2 - drawing.page.u1) / drawing.unit < 200
        assert (drawing.page.v2 - drawing.page.v1) / drawing.unit < 260

    def test_nothing_to_draw_is_refused(self):
        with pytest.raises(DrawingError, match="the piece has no parts"):
            elevation([])

    def test_a_key_twice_is_refused(self):
        with pytest.raises(DrawingError, match="panel: drawn twice"):
            elevation([panel(1, 1, 1), panel(2, 2, 2)])

    def test_a_dimension_beyond_the_piece_is_refused(self):
        with pytest.raises(DrawingError, match="37: runs beyond the piece on x"):
            elevation(bench(), dimensions=[dimension("x", 0, 37, "37")])

    @pytest.mark.parametrize("name", ["width_mm", "height_mm", "text_mm"])
    @pytest.mark.parametrize("size", [0, -1, float("nan")])
    def test_a_page_without_size_is_refused(self, name, size):
        with pytest.raises(DrawingError, match=f"{name} must be above 0 mm"):
            elevation(bench(), **{name: size})


class TestOverallDimensions:
    def test_spans_the_piece_on_each_axis(self):
        made = overall_dimensions(bench(), show=lambda mm: str(mm / INCH))

        assert [(d.axis, d.low, d.text) for d in made] == [
            ("x", Fraction(0), "36"),
            ("y", Fraction(0), "14"),
            ("z", Fraction(0), "18"),
        ]

    def test_no_parts_are_refused(self):
        with pytest.raises(DrawingError, match="the piece has no parts"):
            overall_dimensions([], show=str)


class TestRecords:
    def test_a_box_without_thickness_is_refused(self):
        with pytest.raises(DrawingError, match="panel: x must end after it starts"):
            panel(0, 1, 1)

    def test_a_dimension_without_length_is_refused(self):
        with pytest.raises(DrawingError, match="dimension 3/4: must end after"):
            dimension("x", 1, 1, "3/4")


class TestTextWidth:
    @pytest.mark.parametrize(
        ("text", "widest"),
        [
            ("35 1/4 full", 5.06),
            ("Centre divider", 7.13),
            ("0123456789", 6.37),
            ("WWWW", 3.96),
        ],
    )
    def test_is_not_below_that_in_a_wide_face(self, text, widest):
        # Sums of advance widths in DejaVu Sans 2.37, read with fontTools.
        assert text_width(text) >= widest
