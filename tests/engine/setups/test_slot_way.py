"""Which way a slot is cut with what a shop has."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projects.engine.errors import EngineError
from projects.engine.setups.dado_set import DadoSet
from projects.engine.setups.slot_way import Bits, Place, slot_way
from projects.engine.units import exact_text
from tests.engine.builds import inches

DADO = DadoSet(
    outer_mm=(inches("1/8"),) * 2,
    chippers_mm=(*(inches("1/8"),) * 3, inches("1/16"), inches("1/16")),
    shims_mm=(inches("0.005"), inches("0.010")),
)
LENGTHS = st.integers(40, 400).map(lambda n: Fraction(n, 10))


def way_for(machine, width="0.755", **shop):
    return slot_way(
        machine=machine,
        width_mm=inches(width),
        depth_mm=inches("3/8"),
        under_mm=Fraction(0),
        over_mm=inches("0.005"),
        **shop,
    )


def bits(*diameters):
    return Bits(diameters_mm=tuple(map(inches, diameters)))


def said(way):
    return " ".join(
        words.text(show=lambda mm: exact_text(mm, unit="in")) for words in way.words
    )


class TestAtTheSaw:
    def test_the_stack_comes_first(self):
        """2/8 + 3/8 + 2/16 + 0.005 is 0.755."""
        found = way_for("table_saw", dado=DADO, kerf_mm=inches("1/8"))

        assert found.way.kind == "stack"
        assert found.way.width_mm == inches("0.755")
        assert said(found.way) == (
            "Stack both outer blades, chippers: 5, shims: 1; it cuts 0.755 in in one "
            "pass. Try it on scrap."
        )
        assert [way.kind for way in found.others] == ["blade_passes"]

    def test_without_a_stack_the_blade_goes_through_several_times(self):
        """0.755 / 0.125 is 6.04: seven passes, the last 0.63 past the first."""
        found = way_for("table_saw", kerf_mm=inches("1/8"))

        assert (found.way.kind, found.way.passes) == ("blade_passes", 7)
        assert found.way.move_mm == inches("0.63")
        assert said(found.others[0]) == "The shop has no dado set."

    def test_says_where_the_fence_stands_for_the_last_pass(self):
        """A groove 0.247 wide, 0.738 from the fence: 0.738 + 0.247 - 0.125 = 0.860."""
        place = Place(by="fence", stop_mm=inches("0.738"))
        found = way_for("table_saw", "0.247", kerf_mm=inches("1/8"), place=place)

        assert said(found.way) == (
            "The blade cuts 1/8 in: passes side by side: 2. Fence 0.738 in for the "
            "first pass, 0.86 in for the last."
        )

    def test_a_stack_that_misses_says_what_is_nearest(self):
        """Two outer blades are 1/4; with the one chipper of 1/16 it is 5/16."""
        dado = DadoSet(outer_mm=DADO.outer_mm, chippers_mm=(inches("1/16"),))
        found = way_for("table_saw", "0.280", dado=dado)

        assert found.way is None
        assert [said(way) for way in found.others] == [
            "The dado set doesn't stack to 0.28 in. The next narrower stack is 1/4 in. "
            "The next wider stack is 5/16 in.",
            "Nobody wrote down how wide the blade cuts.",
        ]

    def test_a_blade_wider_than_the_slot_does_not_serve(self):
        found = way_for("table_saw", "0.1", kerf_mm=inches("1/8"))

        assert found.way is None
        assert said(found.others[1]) == "The blade cuts 1/8 in, wider than the slot."

    def test_a_blade_as_wide_as_the_slot_may_be_goes_through_once(self):
        """0.125 for 0.122 with 0.005 over."""
        found = way_for("table_saw", "0.122", kerf_mm=inches("1/8"))

        assert (found.way.passes, found.way.move_mm) == (1, 0)
        assert found.way.width_mm == inches("1/8")


class TestAtTheRouter:
    def test_a_bit_of_that_size(self):
        """3/8 deep with half of 0.755 a pass is one level."""
        found = way_for("router", "0.75", bits=bits("1/4", "1/2", "3/4", "0.752"))

        assert found.way.kind == "bit"
        assert found.way.tool_mm == inches("3/4")
        assert found.way.levels == 1

    def test_a_smaller_bit_in_two_passes(self):
        """1/2 and then 0.255 over; 3/8 deep in two levels of at most 1/4."""
        found = way_for("router_table", bits=bits("1/4", "1/2", "1"))

        assert (found.way.kind, found.way.passes, found.way.levels) == (
            "bit_passes", 2, 2,
        )  # fmt: skip
        assert found.way.move_mm == inches("0.255")
        assert said(found.others[0]) == "The shop has no bit of 0.755 in."
        assert said(found.way) == (
            "Bit of 1/2 in: passes side by side: 2; levels: 2. The last pass lies "
            "0.255 in from the first, farther in from the end or edge that the marks "
            "are measured from."
        )

    def test_no_bit_small_enough(self):
        found = way_for("router", "1/4", bits=bits("1/2"))

        assert found.way is None
        assert said(found.others[1]) == "The shop has no bit smaller than the slot."

    def test_no_bits_at_all(self):
        assert way_for("router").way is None

    def test_a_bit_has_a_diameter(self):
        with pytest.raises(EngineError, match="above 0"):
            bits("0")


def test_at_other_machines_no_way_is_known():
    found = way_for("drill_press", dado=DADO, bits=bits("3/4"))

    assert (found.way, found.others) == (None, ())


@given(LENGTHS, st.lists(LENGTHS, max_size=4), st.sampled_from(["router", "table_saw"]))
def test_the_way_cuts_the_width_within_the_tolerance(width_mm, tools, machine):
    over_mm = Fraction(1, 5)
    found = slot_way(
        machine=machine,
        width_mm=width_mm,
        depth_mm=Fraction(10),
        under_mm=Fraction(0),
        over_mm=over_mm,
        bits=Bits(diameters_mm=tuple(tools)),
        kerf_mm=tools[0] if tools else None,
    )
    if found.way:
        assert 0 <= found.way.width_mm - width_mm <= over_mm
        # no strip is left standing between two passes
        if found.way.tool_mm and found.way.passes > 1:
            assert found.way.move_mm <= found.way.tool_mm * (found.way.passes - 1)
    for way in (*found.others, *([found.way] if found.way else [])):
        assert way.words
