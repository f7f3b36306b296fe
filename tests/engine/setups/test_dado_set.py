"""Stacks of a dado set against every stack there is, and by hand."""

import time
from collections import Counter
from fractions import Fraction
from itertools import chain, combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.errors import EngineError
from projects.engine.setups.dado_set import DadoSet, Stack, stack_for
from tests.engine.builds import inches

ZERO = Fraction(0)
TIGHT = inches("0.002")


def dado_set(chippers=("1/8", "1/8", "1/8", "1/16", "3/32"), shims=(), **more):
    return DadoSet(
        outer_mm=(inches("1/8"), inches("1/8")),
        chippers_mm=tuple(map(inches, chippers)),
        shims_mm=tuple(map(inches, shims)),
        **more,
    )


def chosen(dado, width, *, under=ZERO, over=TIGHT):
    return stack_for(dado, width_mm=inches(width), under_mm=under, over_mm=over)


def in_inches(lengths_mm):
    return [str(mm / inches(1)) for mm in lengths_mm]


def subsets(pieces):
    sizes = range(len(pieces) + 1)
    return chain.from_iterable(combinations(pieces, n) for n in sizes)


def every_stack(dado):
    for chippers in subsets(dado.chippers_mm):
        for shims in subsets(dado.shims_mm):
            stack = Stack(outer_mm=dado.outer_mm, chippers_mm=chippers, shims_mm=shims)
            narrow = dado.widest_mm is None or stack.width_mm <= dado.widest_mm
            if len(shims) <= 2 * (len(chippers) + 1) and narrow:
                yield stack


def rank(stack, width_mm):
    return stack.count, abs(stack.width_mm - width_mm), stack.different


def by_nearness(stack, width_mm):
    return abs(stack.width_mm - width_mm), stack.count, stack.different


THOUSANDTHS = st.integers(1, 300).map(lambda n: inches(Fraction(n, 1000)))
TENTHS = st.integers(1, 70).map(lambda n: Fraction(n, 10))
LENGTHS = st.one_of(THOUSANDTHS, TENTHS)
FEW = st.lists(LENGTHS, max_size=4)


@st.composite
def asked(draw):
    dado = DadoSet(
        outer_mm=(draw(LENGTHS), draw(LENGTHS)),
        chippers_mm=tuple(draw(FEW)),
        shims_mm=tuple(draw(FEW)),
        widest_mm=draw(st.none() | TENTHS.map(lambda mm: mm * 3)),
    )
    # often just what can be made, or near it
    some = draw(st.lists(st.sampled_from(dado.every_mm), max_size=6))
    width_mm = sum(some, dado.least_mm) + draw(
        st.sampled_from([-1, 0, 0, 1])
    ) / Fraction(20)
    tolerances = st.integers(0, 20).map(lambda n: Fraction(n, 20))
    return dado, width_mm, draw(tolerances), draw(tolerances)


class TestAgainstEveryStack:
    @settings(deadline=None, max_examples=300)
    @given(asked())
    def test_is_the_best_there_is(self, case):
        dado, width_mm, under_mm, over_mm = case
        choice = stack_for(dado, width_mm=width_mm, under_mm=under_mm, over_mm=over_mm)
        every = list(every_stack(dado))
        fit = [s for s in every if -under_mm <= s.width_mm - width_mm <= over_mm]

        if fit:
            assert choice.stack is not None
            assert rank(choice.stack, width_mm) == min(rank(s, width_mm) for s in fit)
            assert (choice.below, choice.above) == (None, None)
            found = [choice.stack]
        else:
            assert choice.stack is None
            found = []
            for stack, side in (
                (choice.below, [s for s in every if s.width_mm < width_mm]),
                (choice.above, [s for s in every if s.width_mm > width_mm]),
            ):
                assert (stack is None) == (not side)
                if stack is not None:
                    least = min(by_nearness(s, width_mm) for s in side)
                    assert by_nearness(stack, width_mm) == least
                    found.append(stack)
        for stack in found:
            assert stack.outer_mm == tuple(sorted(dado.outer_mm, reverse=True))
            assert Counter(stack.chippers_mm) <= Counter(dado.chippers_mm)
            assert Counter(stack.shims_mm) <= Counter(dado.shims_mm)
            assert stack.width_mm in {s.width_mm for s in every}

    @settings(deadline=None, max_examples=100)
    @given(asked(), st.randoms(use_true_random=False))
    def test_the_order_of_the_pieces_changes_nothing(self, case, source):
        dado, width_mm, under_mm, over_mm = case
        shuffled = DadoSet(
            outer_mm=dado.outer_mm[::-1],
            chippers_mm=tuple(source.sample(dado.chippers_mm, len(dado.chippers_mm))),
            shims_mm=tuple(source.sample(dado.shims_mm, len(dado.shims_mm))),
            widest_mm=dado.widest_mm,
        )
        asks = {"width_mm": width_mm, "under_mm": under_mm, "over_mm": over_mm}

        assert stack_for(dado, **asks) == stack_for(shuffled, **asks)


class TestByHand:
    def test_three_quarters_takes_four_chippers_and_a_shim(self):
        """1/8 + 1/8 outside leave 1/2; 3/8 + 1/16 is 7/16, and 1/16 is still open.

        With 3/32 for the sixteenth it is 15/32, and no shim of 1/32 is there.
        """
        choice = chosen(dado_set(shims=("1/16",)), "3/4")

        assert choice.stack is not None
        assert in_inches(choice.stack.chippers_mm) == ["1/8", "1/8", "1/8", "1/16"]
        assert in_inches(choice.stack.shims_mm) == ["1/16"]
        assert choice.stack.width_mm == inches("3/4")

    def test_fewer_pieces_come_before_nearer_ones(self):
        """1/4 + 1/8 is 0.375, three pieces and 0.002 over; 0.060 + 0.063 is exact."""
        dado = dado_set(chippers=("1/8", "0.060", "0.063"))
        choice = chosen(dado, "0.373")

        assert choice.stack is not None
        assert choice.stack.count == 3
        assert choice.stack.width_mm == inches("0.375")

    def test_a_shim_makes_the_slot_for_a_thick_board(self):
        """2/8 + 3/8 + 2/16 is 0.750; 0.755 is wanted, and 0.005 is there."""
        dado = dado_set(
            chippers=("1/8",) * 3 + ("1/16",) * 2, shims=("0.004", "0.005", "0.010")
        )
        choice = chosen(dado, "0.755")

        assert choice.stack is not None
        assert in_inches(choice.stack.shims_mm) == ["1/200"]

    def test_what_can_not_be_made_is_told_with_the_nearest(self):
        """1/4 with 1/8 is 3/8, with 1/16 is 5/16: 0.35 lies between."""
        choice = chosen(dado_set(chippers=("1/8", "1/16")), "0.35")

        assert choice.stack is None
        assert choice.below is not None
        assert choice.above is not None
        assert in_inches([choice.below.width_mm]) == ["5/16"]
        assert in_inches([choice.above.width_mm]) == ["3/8"]

    def test_narrower_than_the_outer_blades_there_is_nothing_below(self):
        choice = chosen(dado_set(), "0.2")

        assert (choice.stack, choice.below) == (None, None)
        assert choice.above is not None
        assert choice.above.count == 2

    def test_no_more_than_two_shims_lie_together(self):
        """Between two outer blades there is one place, for two of the three."""
        choice = chosen(dado_set(chippers=(), shims=("0.010",) * 3), "0.280")

        assert choice.stack is None
        assert choice.below is not None
        assert in_inches([choice.below.width_mm]) == ["27/100"]

    def test_wider_than_the_arbor_takes_is_not_stacked(self):
        dado = dado_set(widest_mm=inches("1/2"))
        choice = chosen(dado, "0.6")

        assert (choice.stack, choice.above) == (None, None)
        assert choice.below is not None
        assert choice.below.width_mm == inches("1/2")

    def test_an_arbor_too_short_for_the_outer_blades_takes_nothing(self):
        choice = chosen(dado_set(widest_mm=inches("1/8")), "1/4")

        assert (choice.stack, choice.below, choice.above) == (None, None, None)

    @pytest.mark.parametrize("outer", [(), ("1/8",), ("1/8",) * 3])
    def test_a_set_has_two_outer_blades(self, outer):
        with pytest.raises(EngineError, match="2 outer blades"):
            DadoSet(outer_mm=tuple(map(inches, outer)))

    def test_a_piece_without_thickness_is_refused(self):
        with pytest.raises(EngineError, match="above 0"):
            dado_set(shims=("0",))


def test_a_large_set_is_searched_quickly():
    """Two outer blades, six chippers and ten shims, all shims different."""
    dado = dado_set(
        chippers=("1/8", "1/8", "1/8", "1/8", "1/16", "3/32"),
        shims=tuple(f"0.0{n:02}" for n in (4, 5, 8, 10, 12, 15, 16, 20, 25, 31)),
    )
    widths = [Fraction(700 + n, 1000) for n in range(0, 100, 10)]
    times_s = []
    for width in widths:
        started = time.process_time()
        chosen(dado, width, over=inches("0.001"))
        times_s.append(time.process_time() - started)

    assert min(times_s) < 0.05
