"""Broken plans: each is refused, and the error names the place."""

import json
from fractions import Fraction

import pytest

from projects.engine.errors import EngineError
from projects.engine.plan.reader import read_plan
from projects.engine.units import Length
from tests.engine.builds import boot_bench, data, part, plan


def broken(place, value):
    """Return the boot bench with one value replaced; `place` is its path."""
    whole = boot_bench()
    *path, last = place
    target = whole
    for step in path:
        target = target[step]
    target[last] = value
    return whole


def refusal(of):
    """Return the error that a plan is refused with."""
    with pytest.raises(EngineError) as refused:
        plan(of)
    return str(refused.value)


class TestGoodPlans:
    def test_the_boot_bench_is_read(self):
        read = plan(boot_bench())

        assert read.title == "Hall boot bench"
        assert [p.key for p in read.parts] == ["left_side", "right_side", "shelf"]
        clearance = read.joint_by_key["shelf_left"].clearance
        assert clearance == Length(mm=Fraction(127, 1000), unit="in")
        assert read.distance_by_key["opening"].dry_fit

    def test_bytes_with_a_byte_order_mark_are_read(self):
        text = json.dumps(boot_bench())

        assert read_plan(b"\xef\xbb\xbf" + text.encode()).title == "Hall boot bench"
        assert read_plan("\ufeff" + text).title == "Hall boot bench"

    def test_tape_and_the_lists_may_be_left_out(self):
        read = plan(data([part("a", "xyz")]))

        assert (read.tape, read.joints, read.flush) == (16, (), ())

    def test_bare_numbers_are_exact_and_in_the_plans_unit(self):
        whole = boot_bench()
        whole["units"] = "mm"
        whole["stock"][0]["thickness"] = 18.35
        text = json.dumps(whole)

        assert read_plan(text).stock[0].thickness.mm * 20 == 367

    def test_the_same_bytes_are_the_same_plan(self):
        text = json.dumps(boot_bench())

        assert read_plan(text) == read_plan(text)
        assert read_plan(text) != read_plan(text + " ")


class TestText:
    @pytest.mark.parametrize(
        ("content", "said"),
        [
            (b"", "not JSON"),
            (b"{", "line 1"),
            (b"\xff\xfe{}", "UTF-8"),
            (b'{"title": "\xe4"}', "UTF-8"),
            (b"null", "expected an object"),
            (b"[]", "expected an object"),
            (b"3", "expected an object"),
            (b'"text"', "expected an object"),
            (b"{} {}", "not JSON"),
            (b"[" * 21 + b"]" * 21, "deep"),
            (b'{"a":' * 100_000, "deep"),
            (b"[" * 900_000, "deep"),
            (b'"' + b" " * 1_000_000 + b'"', "1 MB"),
            (b"{" + b" " * 1_000_000 + b"}", "1 MB"),
            (("{" + '"ü": ' * 300_000).encode(), "1 MB"),
        ],
        ids=range(15),
    )
    def test_is_refused(self, content, said):
        with pytest.raises(EngineError, match=said) as refused:
            read_plan(content)

        lines = str(refused.value).splitlines()
        assert all(line.startswith("plan: ") for line in lines)

    def test_brackets_in_a_text_do_not_nest(self):
        assert "title" in refusal(broken(["title"], "[" * 50 + '\\"' + "{" * 50))

    @pytest.mark.parametrize("filler", ['\\"', "\\", '"', "[]", '"a', '["'])
    def test_a_hostile_text_takes_no_time(self, filler):
        """A scan that starts anew at each quote would take hours."""
        with pytest.raises(EngineError):
            read_plan('"' + filler * (900_000 // len(filler)))


PLACES = [
    (["format"], "other", "format: "),
    (["version"], 2, "version: "),
    (["version"], True, "version: "),
    (["version"], "1", "version: "),
    (["title"], "", "title: "),
    (["title"], "x" * 81, "title: "),
    (["title"], "bad\u0007", "title: "),
    (["title"], "\ud800", "title: "),
    (["title"], 3, "title: "),
    (["title"], None, "title: "),
    (["units"], "ft", "units: "),
    (["units"], True, "units: "),
    (["tape"], 12, "tape: "),
    (["tape"], True, "tape: "),
    (["tape"], 16.0, "tape: "),
    (["stock"], {}, "plan: stock"),
    (["stock", 0], 3, "stock[0]: "),
    (["stock", 0, "key"], "Poplar", "stock[0].key: "),
    (["stock", 0, "key"], "3quarter", "stock[0].key: "),
    (["stock", 0, "key"], "a" * 41, "stock[0].key: "),
    (["stock", 0, "key"], "a\n", "stock[0].key: "),
    (["stock", 0, "key"], "é", "stock[0].key: "),
    (["stock", 0, "thickness"], "0", "stock[0].thickness: "),
    (["stock", 0, "thickness"], -1, "stock[0].thickness: "),
    (["stock", 0, "thickness"], True, "stock[0].thickness: "),
    (["stock", 0, "thickness"], None, "stock[0].thickness: "),
    (["stock", 0, "thickness"], float("nan"), "stock[0].thickness: "),
    (["stock", 0, "thickness"], float("inf"), "stock[0].thickness: "),
    (["stock", 0, "thickness"], "21 m", "stock[0].thickness: "),
    (["stock", 0, "thickness"], 10**400, "stock[0].thickness: "),
    (["parts", 1, "stock"], "oak", "parts[1].stock: "),
    (["parts", 1, "stock"], ["board"], "parts[1].stock: "),
    (["parts", 1, "length"], "w", "parts[1].length: "),
    (["parts", 1, "length"], "x", "parts[1]: "),
    (["parts", 2, "pair"], "left_side", "parts[2].pair: "),
    (["parts", 2, "pair"], "shelf", "parts[2].pair: "),
    (["parts", 2, "pair"], "nobody", "parts[2].pair: "),
    (["parts", 1, "pair"], "shelf", "parts[0].pair: "),
    (["joints", 0, "kind"], "glue", "joints[0].kind: "),
    (["joints", 0, "kind"], True, "joints[0].kind: "),
    (["joints", 0, "guest"], "shelf.up", "joints[0].guest: "),
    (["joints", 0, "guest"], "shelf", "joints[0].guest: "),
    (["joints", 0, "guest"], "nobody.left", "joints[0].guest: "),
    (["joints", 0, "guest"], "shelf.left.left", "joints[0].guest: "),
    (["joints", 0, "guest"], 1.5, "joints[0].guest: "),
    (["joints", 0, "guest"], "shelf.right", "joints[0]: the faces must look"),
    (["joints", 0, "guest"], "shelf.bottom", "joints[0]: the faces must look"),
    (["joints", 0, "host"], "shelf.right", "joints[0]: guest and host"),
    (["joints", 0, "depth"], "-3/8", "joints[0].depth: "),
    (["joints", 0, "depth"], {}, "joints[0].depth: "),
    (["joints", 0, "depth"], {"of_thickness": "3/2"}, "joints[0].depth.of_thickness: "),
    (["joints", 0, "depth"], {"of_thickness": 0}, "joints[0].depth.of_thickness: "),
    (["joints", 0, "depth"], {"of_thickness": "1/0"}, "joints[0].depth.of_thickness: "),
    (["joints", 0, "depth"], {"of_thickness": True}, "joints[0].depth.of_thickness: "),
    (["joints", 0, "depth"], {"of_width": "1/2"}, "joints[0].depth: "),
    (["joints", 0, "clearance"], "0", "joints[0].clearance: "),
    (["distances", 0, "from"], "left_side.top", "distances[0]: from and to"),
    (["distances", 0, "from"], "right_side.right", "distances[0]: from and to"),
    (["distances", 0, "value"], "36 miles", "distances[0].value: "),
    (["distances", 0, "held"], 0, "distances[0].held: "),
    (["distances", 0, "held"], True, "distances[0].held: "),
    (["distances", 0, "held"], 1.5, "distances[0].held: "),
    (["distances", 0, "held"], "1", "distances[0].held: "),
    (["distances", 0, "held"], 10**50, "distances[0].held: "),
    (["distances", 4, "held"], 1, "distances[4]: held"),
    (["distances", 4, "measure"], "wet_fit", "distances[4].measure: "),
    (["distances", 4, "measure"], True, "distances[4].measure: "),
    (["distances", 4, "fits"], ["nobody"], "distances[4]: fits[0]"),
    (["distances", 0, "fits"], ["shelf"], "distances[0]: fits"),
    (["flush"], True, "plan: flush"),
    (["flush", 0], "shelf.front", "flush[0]: "),
    (["flush", 0], ["shelf.front"], "flush[0]: "),
    (["flush", 0, 1], "shelf.left", "flush[0]: "),
    (["flush", 0, 1], "left_side.front", "flush[0]: "),
    (["flush", 0, 1], None, "flush[0][1]: "),
    (["even"], [[["left_side.left", "shelf.left"]]], "even[0]: "),
    (["even"], [[["shelf.left", "shelf.right"], ["shelf.left"]]], "even[0][1]: "),
    (["even"], [[["left_side.left", "shelf.top"],
                 ["left_side.left", "shelf.left"]]], "even[0]: [0]"),
    (["even"], [[1, 2]], "even[0][0]: "),
]  # fmt: skip


class TestWrongValues:
    @pytest.mark.parametrize(("path", "value", "place"), PLACES, ids=range(len(PLACES)))
    def test_the_error_names_the_place(self, path, value, place):
        said = refusal(broken(path, value)).split("\n")

        assert any(line.startswith(place) for line in said), said

    def test_every_fault_is_told_at_once(self):
        whole = broken(["joints", 0, "depth"], "deep")
        whole["joints"][1]["kind"] = "glue"
        whole["distances"][0]["held"] = -1
        said = refusal(whole)

        assert "joints[0].depth: " in said
        assert "joints[1].kind: " in said
        assert "distances[0].held: " in said

    @pytest.mark.parametrize("text", ["NaN", "Infinity", "-Infinity", "1e999", "-0"])
    def test_numbers_that_are_none(self, text):
        whole = json.dumps(broken(["stock", 0, "thickness"], 77)).replace("77", text)

        with pytest.raises(EngineError, match=r"stock\[0\].thickness: "):
            read_plan(whole)
