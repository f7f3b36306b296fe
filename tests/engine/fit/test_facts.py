"""What is measured: believed in order, in doubt, agreeing, or waited for."""

from fractions import Fraction

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.solve import check_plan, solve
from projects.engine.plan.readings import Fact, Reading, Readings
from projects.engine.units import read_length
from tests.engine.builds import (
    boot_bench,
    box,
    distance,
    inches,
    joint,
    part,
    plan,
    size,
    size_in,
    solved,
)

STOCK = {"stock": {"board": ["0.742", "0.744", "0.741"]}}


class TestInDoubt:
    def measured(self, cut, *, tape=16):
        """Return what is in doubt where the length is measured as 10 and cut so."""
        of = box(length="12", width="3")
        of["tape"] = tape
        facts = {"distances": {"box_length": "10"}, "cut": {"box.length": cut}}
        return solved(of, facts)

    def test_a_cut_size_that_contradicts_a_measured_distance(self):
        build = self.measured("10.5")
        (doubt,) = build.in_doubt

        assert str(doubt.fact) == "box.length"
        assert doubt.comes_out_mm == inches(10)
        assert doubt.off_mm == inches("0.5")
        assert doubt.disagrees_with == ("Box length, measured",)
        assert not doubt.agrees

    def test_the_cut_size_is_shown_all_the_same(self):
        build = self.measured("10.5")

        assert size_in(build, "box.length") == Fraction("10.5")
        assert [t.name for t in build.terms(build.form(("box", "length")))] == [
            "Box length, as cut"
        ]

    @pytest.mark.parametrize(
        ("cut", "tape", "agrees"),
        [
            ("10.0625", 16, True),  # exactly one mark
            ("9.9375", 16, True),
            ("10.06251", 16, False),
            ("9.93749", 16, False),
            ("10.0625", 32, False),
            ("10 1/64", 64, True),
            ("10.125", 8, True),
        ],
    )
    def test_one_mark_of_the_tape_agrees(self, cut, tape, agrees):
        (doubt,) = self.measured(cut, tape=tape).in_doubt

        assert doubt.agrees is agrees

    def test_what_is_the_same_is_not_in_doubt(self):
        assert self.measured("10").in_doubt == ()

    def test_the_first_distance_of_the_file_is_believed(self):
        of = box(length="12", width="3")
        of["distances"].append(distance("again", "box.left", "box.right"))
        first = solved(of, {"distances": {"again": "11", "box_length": "10"}})
        second = solved(of, {"distances": {"box_length": "10", "again": "11"}})

        assert size_in(first, "box.length") == 11
        assert [str(d.fact) for d in first.in_doubt] == ["box_length"]
        assert size_in(second, "box.length") == 10
        assert [str(d.fact) for d in second.in_doubt] == ["again"]

    def test_the_order_given_is_the_order_believed(self):
        """The web app gives the newest reading first, a cut size before a distance."""
        cut = Fact(kind="cut", key="box", dimension="length")
        apart = Fact(kind="distance", key="box_length")
        facts = {
            cut: Reading(length=read_length("11")),
            apart: Reading(length=read_length("10")),
        }
        build = solve(plan(box(length="12", width="3")), Readings(facts=facts))

        assert [str(d.fact) for d in build.in_doubt] == ["box_length"]
        assert build.distances["box_length"] == inches(11)

    def test_a_reading_against_the_structure_alone(self):
        """A butt joint says the two faces touch; a gap of 1/2 is read."""
        of = box("a", length="10", width="3")
        of["parts"].append(part("b", "xyz"))
        of["joints"] = [joint("end", "butt", "b.left", "a.right")]
        of["distances"] += [size("b", d, "xyz", "5") for d in ("length", "width")]
        of["distances"].append(distance("gap", "a.right", "b.left"))
        (doubt,) = solved(of, {"distances": {"gap": "1/2"}}).in_doubt

        assert doubt.comes_out_mm == 0
        assert doubt.disagrees_with == ()

    def test_names_the_readings_of_the_boards_too(self):
        facts = STOCK | {
            "distances": {"opening": "34 1/2"},
            "cut": {"shelf.length": "36"},
        }
        (doubt,) = solved(boot_bench(), facts).in_doubt

        assert set(doubt.disagrees_with) == {
            "Opening, measured", "Right side thickness",
        }  # fmt: skip


class TestDryFit:
    def railed(self):
        """Return the bench with a rail between the sides as well."""
        of = boot_bench()
        of["parts"].append(part("rail", "xzy"))
        of["joints"] += [
            joint("rail_left", "butt", "rail.left", "left_side.right"),
            joint("rail_right", "butt", "rail.right", "right_side.left"),
        ]
        of["distances"].append(size("rail", "width", "xzy", "3"))
        return of

    def test_sizes_that_depend_on_it_wait(self):
        build = solved(boot_bench(), STOCK)

        assert build.waiting_for == ("opening",)
        assert build.system.waiting == {("shelf", "length"): ("opening",)}

    def test_nothing_waits_once_it_is_measured(self):
        build = solved(boot_bench(), {"distances": {"opening": "34 1/2"}})

        assert build.waiting_for == ()
        assert build.system.waiting == {}

    def test_only_the_parts_it_fits_wait(self):
        of = self.railed()
        of["distances"][4]["fits"] = ["rail"]
        build = solved(of)

        assert build.system.waiting == {("rail", "length"): ("opening",)}

    def test_a_part_cut_early_does_not_wait_but_the_others_do(self):
        build = solved(self.railed(), {"cut": {"shelf.length": "35 1/4"}})

        assert build.system.waiting == {("rail", "length"): ("opening",)}

    def test_fits_must_name_parts_that_depend_on_it(self):
        of = boot_bench()
        of["distances"][4]["fits"] = ["left_side"]

        with pytest.raises(EngineError, match="distance opening: fits names left_side"):
            check_plan(plan(of))
