"""Broken readings: each is refused, and the error names the place."""

import json

import pytest

from projects.engine.errors import EngineError
from projects.engine.plan.readings import Fact, read_readings
from tests.engine.builds import IN, boot_bench, plan

GOOD = {
    "stock": {"board": ["0.742", 0.744, "0.741"]},
    "parts": {"shelf": {"thickness": ["0.738"]}},
    "distances": {"opening": "34 17/32"},
    "cut": {"shelf.length": "35 1/4", "left_side.width": "14"},
}
BENCH = plan(boot_bench())


def refusal(text):
    with pytest.raises(EngineError) as refused:
        read_readings(
            text if isinstance(text, (str, bytes)) else json.dumps(text), BENCH
        )
    return str(refused.value)


class TestGood:
    def test_all_are_read_exactly(self):
        read = read_readings(json.dumps(GOOD), BENCH)

        points_mm = [point.length.mm for point in read.stock["board"]]
        assert [mm / IN * 1000 for mm in points_mm] == [742, 744, 741]
        assert [str(fact) for fact in read.facts] == [
            "opening", "shelf.length", "left_side.width",
        ]  # fmt: skip

    def test_an_empty_file_has_none(self):
        read = read_readings("{}", BENCH)

        assert (read.stock, read.parts, read.facts) == ({}, {}, {})

    def test_distances_are_believed_before_cut_sizes_wherever_they_stand(self):
        text = '{"cut": {"shelf.length": "35"}, "distances": {"opening": "34"}}'

        assert next(iter(read_readings(text, BENCH).facts)).kind == "distance"

    def test_a_parts_own_readings_count_before_its_stocks(self):
        read = read_readings(json.dumps(GOOD), BENCH)

        assert len(read.of_part(BENCH, "shelf")) == 1
        assert len(read.of_part(BENCH, "left_side")) == 3

    def test_any_distance_may_be_measured(self):
        read = read_readings('{"distances": {"overall_width": 36}}', BENCH)

        assert Fact(kind="distance", key="overall_width") in read.facts


class TestBroken:
    @pytest.mark.parametrize(
        ("readings", "place"),
        [
            ([], "readings: "),
            ({"colour": {}}, "readings: unknown field 'colour'"),
            ({"stock": []}, "readings.stock: "),
            ({"stock": {"oak": ["0.7"]}}, "readings.stock: "),
            ({"stock": {"board": "0.7"}}, "readings.stock.board: "),
            ({"stock": {"board": []}}, "readings.stock.board: "),
            ({"stock": {"board": ["0.7"] * 101}}, "readings.stock.board: "),
            ({"stock": {"board": ["0.7", "x"]}}, "readings.stock.board[1]: "),
            ({"stock": {"board": [True]}}, "readings.stock.board[0]: "),
            ({"stock": {"board": [["0.7"]]}}, "readings.stock.board[0]: "),
            ({"stock": {"board": [-0.7]}}, "readings.stock.board[0]: "),
            ({"parts": {"nobody": {"thickness": ["1"]}}}, "readings.parts: "),
            ({"parts": {"shelf": ["0.7"]}}, "readings.parts.shelf: "),
            ({"parts": {"shelf": {}}}, "readings.parts.shelf: "),
            ({"parts": {"shelf": {"width": ["1"]}}}, "readings.parts.shelf: "),
            ({"distances": {"nobody": "1"}}, "readings.distances: "),
            ({"distances": {"opening": ["1"]}}, "readings.distances.opening: "),
            ({"distances": {"opening": None}}, "readings.distances.opening: "),
            ({"cut": {"shelf": "1"}}, "readings.cut: "),
            ({"cut": {"shelf.thickness": "1"}}, "readings.cut: "),
            ({"cut": {"shelf.left": "1"}}, "readings.cut: "),
            ({"cut": {"nobody.length": "1"}}, "readings.cut: "),
            ({"cut": {"shelf.length.x": "1"}}, "readings.cut: "),
            ({"cut": {"shelf.length": "0"}}, "readings.cut.shelf.length: "),
            ("", "readings: this is not JSON"),
            (b"\xff", "readings: "),
            ("[" * 100, "readings: nested"),
            (" " * 1_000_001, "readings: at most 1 MB is read"),
            ('{"cut": {}, "cut": {}}', "readings: the field 'cut' stands here twice"),
            (
                '{"stock": {"board": ["1"], "board": ["2"]}}',
                "readings.stock: the field",
            ),
            (
                '{"cut": {"shelf.length": "1", "shelf.length": "2"}}',
                "readings.cut: the",
            ),
        ],
        ids=range(31),
    )
    def test_the_error_names_the_place(self, readings, place):
        said = refusal(readings)

        assert any(line.startswith(place) for line in said.split("\n")), said
        assert len(said) < 500
