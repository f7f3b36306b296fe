"""What cuts a rabbet, a lap and a mortise of what a shop has."""

from fractions import Fraction

from projects.engine.setups.cut_way import Cut, Tools, cut_way
from projects.engine.setups.dado_set import DadoSet
from projects.engine.setups.slot_way import MARKED, Place
from projects.engine.units import exact_text
from tests.engine.builds import inches

DADO = DadoSet(
    outer_mm=(inches("1/8"),) * 2,
    chippers_mm=(inches("1/8"),) * 3 + (inches("1/16"),),
    shims_mm=(inches("0.005"),),
)
FENCE = Place(by="fence", stop_mm=inches("3/8"))


def way(kind, machine, width, *, place=MARKED, side="near", depth="1/4", **has):
    cut = Cut(
        kind=kind,
        width_mm=inches(width),
        depth_mm=inches(depth),
        over_mm=inches("0.005"),
        side=side,
        place=place,
    )
    return cut_way(cut, machine, Tools(**has))


def said(found):
    words = found.way.words if found.way else found.others[0].words
    return " ".join(w.text(show=lambda mm: exact_text(mm, unit="in")) for w in words)


class TestRabbet:
    def test_a_wider_stack_eats_into_a_sacrificial_fence(self):
        """The next stack from 0.33 is 3/8: 0.045 of it would be in the fence."""
        found = way("rabbet", "table_saw", "0.33", place=FENCE, side="far", dado=DADO)

        assert said(found) == (
            "Stack both outer blades, chippers: 1; it cuts 3/8 in. 0.045 in of that "
            "would go into the fence: put a sacrificial fence on first."
        )
        assert found.way.passes == 1

    def test_a_stack_as_wide_touches_the_fence(self):
        found = way("rabbet", "table_saw", "3/8", place=FENCE, side="far", dado=DADO)

        assert "It touches the fence: put a sacrificial fence on first." in said(found)

    def test_the_blade_clears_it_with_the_fence_nearer_for_the_last_pass(self):
        """From 3/8 in passes of 1/8: the last with the fence 1/8 from the far side."""
        found = way(
            "rabbet", "table_saw", "3/8", place=FENCE, side="far",
            kerf_mm=inches("1/8"),
        )  # fmt: skip

        assert (found.way.passes, found.way.move_mm) == (3, -inches("1/4"))
        assert "Fence 3/8 in for the first pass, 1/8 in for the last." in said(found)
        assert "put a sacrificial fence on first" in said(found)
        assert found.others[0].words[0].template == "The shop has no dado set."

    def test_at_a_stop_the_stop_stays_and_the_stack_is_narrower(self):
        stop = Place(by="stop", stop_mm=inches("0.4"))
        found = way("rabbet", "table_saw", "0.4", place=stop, side="far", dado=DADO)

        assert found.way.tool_mm == inches("3/8")
        assert found.way.passes == 2
        assert "the part lies farther from the stop, which stays" in said(found)
        assert "sacrificial" not in said(found)

    def test_a_blade_wider_than_a_rabbet_at_the_stop_wants_a_sacrificial_block(self):
        stop = Place(by="stop", stop_mm=inches("0.1"))
        found = way(
            "rabbet", "table_saw", "0.1", place=stop, side="far", dado=DADO,
            kerf_mm=inches("1/8"),
        )  # fmt: skip

        assert "0.025 in of that would go into the stop" in said(found)

    def test_at_the_router_table_a_wider_bit_stands_in_the_fence(self):
        bits = (inches("1/4"), inches("1/2"))
        found = way(
            "rabbet", "router_table", "3/8", place=FENCE, side="far", bits_mm=bits
        )

        assert said(found) == (
            "Bit of 1/2 in; levels: 1. 1/8 in of it stands inside the fence's opening."
        )

    def test_by_hand_there_is_nothing_to_choose(self):
        assert way("rabbet", "hand_tools", "3/8", side="far") is None


class TestLap:
    def test_in_the_middle_the_last_pass_has_its_stop(self):
        """A lap 2 wide, 3 from the stop, with 11/16 in passes: 3 + 2 - 11/16."""
        stop = Place(by="stop", stop_mm=inches(3))
        found = way("lap", "table_saw", "2", place=stop, dado=DADO)

        assert found.way.tool_mm == inches("11/16")
        assert found.way.passes == 3
        assert "Stop 3 in for the first pass, 4.3125 in for the last." in said(found)

    def test_a_blade_wider_than_it_does_not_serve(self):
        found = way("lap", "table_saw", "0.1", kerf_mm=inches("1/8"))

        assert found.way is None


class TestMortise:
    CHISELS = (inches("1/4"), inches("3/8"))

    def test_a_chisel_of_that_width(self):
        found = way("mortise", "mortiser", "1/4", chisels_mm=self.CHISELS)

        assert said(found) == "Chisel of 1/4 in."

    def test_a_mortise_wider_than_the_chisel_is_cut_in_two_rows(self):
        """0.256 from 0.245: the last row 0.251 from the fence."""
        place = Place(by="fence", stop_mm=inches("0.245"))
        found = way(
            "mortise", "mortiser", "0.256", place=place, chisels_mm=self.CHISELS
        )

        assert found.way.passes == 2
        assert said(found) == (
            "The shop has no chisel of 0.256 in. With the next narrower chisel, 1/4 "
            "in, rows side by side: 2. Fence 0.245 in for the first pass, 0.251 in "
            "for the last. The next wider chisel is 3/8 in: a mortise 0.119 in wider."
        )

    def test_a_mortise_narrower_than_every_chisel_is_not_reached(self):
        found = way("mortise", "mortiser", "0.2", chisels_mm=self.CHISELS)

        assert found.way is None
        assert "The next wider chisel is 1/4 in: a mortise 0.05 in wider." in said(
            found
        )

    def test_drilled_it_is_finished_with_a_chisel(self):
        found = way("mortise", "drill_press", "3/8", bits_mm=self.CHISELS)

        assert (
            said(found) == "Bit of 3/8 in: a row of holes, then a chisel to the marks."
        )

    def test_routed_it_is_a_slot(self):
        found = way("mortise", "router", "1/4", bits_mm=self.CHISELS)

        assert found.way.kind == "bit"


def test_a_cheek_has_nothing_to_choose():
    assert way("cheek", "table_saw", "1", kerf_mm=Fraction(3)) is None
