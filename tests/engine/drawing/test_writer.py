import re
from xml.etree import ElementTree

import pytest

from projects.engine.drawing import elevation, svg
from tests.engine.drawing.pieces import (
    BENCH_HOUSED,
    bench,
    bench_dimensions,
    box,
)

SPACE = "{http://www.w3.org/2000/svg}"
HOSTILE = "\"><script>alert(1)</script>&\x00\u202e'"


def written(parts, **options):
    text = svg(elevation(parts, **options))
    # Our own output, just written.
    return text, ElementTree.fromstring(text)  # noqa: S314


class TestSvg:
    @pytest.mark.parametrize(
        ("view", "across", "up"),
        [("front", "x", "z"), ("side", "y", "z"), ("top", "x", "y")],
    )
    def test_rectangles_equal_the_boxes(self, view, across, up):
        _, root = written(bench(), view=view)
        found = {r.get("data-part"): r for r in root.iter(f"{SPACE}rect")}

        assert set(found) == {part.key for part in bench()}
        for part in bench():
            rect = found[part.key]
            left, right = getattr(part, across)
            low, high = getattr(part, up)
            wanted = {
                "data-x": left,
                "data-y": low,
                "data-width": right - left,
                "data-height": high - low,
                "x": left,
                "y": -high,
                "width": right - left,
                "height": high - low,
            }
            for name, value in wanted.items():
                assert float(rect.get(name)) == pytest.approx(float(value), abs=0.01)

    def test_outlines_are_drawn_at_their_true_place(self):
        _, root = written([box("a", (1, 3), (0, 1), (0, 2))])
        path = root.find(f"{SPACE}path[@class='drawing-visible']")

        assert sorted(re.findall("M[^M]+", path.get("d"))) == [
            "M25.4 -50.8H76.2",
            "M25.4 0H76.2",
            "M25.4 0V-50.8",
            "M76.2 0V-50.8",
        ]

    def test_visible_lines_are_twice_as_wide_as_hidden_ones(self):
        _, root = written(bench(), housed=BENCH_HOUSED, dimensions=bench_dimensions())
        paths = {p.get("class"): p for p in root.iter(f"{SPACE}path")}
        widths = {name: float(p.get("stroke-width")) for name, p in paths.items()}

        assert widths["drawing-visible"] == pytest.approx(
            2 * widths["drawing-hidden"], abs=0.002
        )
        assert widths["drawing-thin"] == widths["drawing-hidden"]
        assert "stroke-dasharray" in paths["drawing-hidden"].attrib

    def test_has_no_style_and_no_script(self):
        text, _ = written(bench(), housed=BENCH_HOUSED, dimensions=bench_dimensions())

        assert "style" not in text
        assert "<script" not in text

    def test_names_are_escaped(self):
        text, root = written([box("a", (0, 9), (0, 9), (0, 9), name=HOSTILE)])

        assert "<script" not in text
        assert "\x00" not in text
        assert "\u202e" not in text
        titles = [title.text for title in root.iter(f"{SPACE}title")]
        assert titles == ["From the front", "\"><script>alert(1)</script>& '"]

    def test_says_in_words_what_it_shows(self):
        _, root = written(bench(), view="side", dimensions=bench_dimensions())

        assert root.get("role") == "img"
        assert root.find(f"{SPACE}title").text == "From the right side"
        words = root.find(f"{SPACE}desc").text
        assert words.startswith("Seen: Right side. Hidden, dashed: ")
        assert "18" in words

    def test_has_no_number_with_more_than_three_decimals(self):
        text, _ = written(bench(), housed=BENCH_HOUSED, dimensions=bench_dimensions())

        assert not re.search(r"\d\.\d{4}", text)
        assert "-0 " not in text

    def test_ink_and_fonts_can_be_chosen(self):
        text = svg(elevation(bench()), ink="#123456", font_family='"Some Sans", serif')

        assert "currentColor" not in text
        assert 'font-family="&quot;Some Sans&quot;, serif"' in text
