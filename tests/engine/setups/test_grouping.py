"""The fewest setups: against every way to group, and against an integer program."""

from fractions import Fraction

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from projects.engine.errors import EngineError
from projects.engine.setups.grouping import Tolerance, Wish, fewest_groups


def wish(*wanted, who="", tolerance=1):
    around = Tolerance(under_mm=Fraction(tolerance), over_mm=Fraction(tolerance))
    return Wish(
        who=who or str(wanted),
        wanted=tuple(map(Fraction, wanted)),
        within=(around,) * len(wanted),
    )


def least(wish, axis):
    return wish.wanted[axis] - wish.within[axis].under_mm


def most(wish, axis):
    return wish.wanted[axis] + wish.within[axis].over_mm


def boxes(axes, most):
    """Give lists of wishes with small halves and thirds, so that many limits meet."""
    side = st.tuples(st.integers(0, 12), st.integers(0, 3), st.integers(0, 3))
    one = st.lists(side, min_size=axes, max_size=axes)
    return st.lists(one, max_size=most).map(
        lambda rows: [
            Wish(
                who=n,
                wanted=tuple(Fraction(v, 2) for v, _, _ in row),
                within=tuple(
                    Tolerance(under_mm=Fraction(u, 2), over_mm=Fraction(o, 3))
                    for _, u, o in row
                ),
            )
            for n, row in enumerate(rows)
        ]
    )


def meet(wishes):
    axes = range(len(wishes[0].wanted))
    return all(
        max(least(w, a) for w in wishes) <= min(most(w, a) for w in wishes)
        for a in axes
    )


def fewest_by_trying_all(wishes):
    """Put each wish into each group that can take it, or into one of its own."""

    def place(rest, groups):
        if not rest:
            return len(groups)
        first, *later = rest
        counts = [place(later, [*groups, [first]])]
        for n, group in enumerate(groups):
            if meet([*group, first]):
                grown = [*groups[:n], [*group, first], *groups[n + 1 :]]
                counts.append(place(later, grown))
        return min(counts)

    return place(wishes, [])


def fewest_by_integer_program(wishes):
    """Choose the fewest points, of all that have a right end on each axis."""
    if not wishes:
        return 0
    points: list[tuple[Fraction, ...]] = [()]
    for axis in range(len(wishes[0].wanted)):
        ends = sorted({most(w, axis) for w in wishes})
        points = [(*point, end) for point in points for end in ends]
    serves = [
        [
            float(all(least(w, n) <= at <= most(w, n) for n, at in enumerate(point)))
            for point in points
        ]
        for w in wishes
    ]
    solved = milp(
        numpy.ones(len(points)),
        constraints=LinearConstraint(numpy.array(serves), lb=1),
        integrality=numpy.ones(len(points)),
        bounds=Bounds(0, 1),
    )
    assert solved.success
    return round(solved.fun)


def said(groups):
    return [(group.at, {w.who for w in group.wishes}) for group in groups]


def check(wishes, groups):
    """Hold the groups to what they say: each wish once, each served."""
    served = [w.who for group in groups for w in group.wishes]
    assert sorted(served, key=str) == sorted((w.who for w in wishes), key=str)
    for group in groups:
        for w in group.wishes:
            for axis, at in enumerate(group.at):
                assert least(w, axis) <= at <= most(w, axis)


class TestOneQuantity:
    def test_nobody_needs_nothing(self):
        assert fewest_groups([]) == ()

    def test_slots_within_their_tolerance_share_a_setup(self):
        groups = fewest_groups([wish(w) for w in (10, 11, 12, 13, 20)])

        assert [len(group.wishes) for group in groups] == [3, 1, 1]
        assert list(groups[0].at) == [11]

    def test_limits_that_touch_are_enough(self):
        assert len(fewest_groups([wish(10), wish(12)])) == 1

    def test_the_setup_is_what_most_want(self):
        many = [wish(10, who=n) for n in range(3)]

        assert list(fewest_groups([*many, wish(11)])[0].at) == [10]

    @given(boxes(1, 7))
    def test_no_way_of_grouping_needs_fewer(self, wishes):
        groups = fewest_groups(wishes)

        check(wishes, groups)
        assert len(groups) == fewest_by_trying_all(wishes)

    @settings(max_examples=25)
    @given(boxes(1, 40))
    def test_an_integer_program_needs_as_many(self, wishes):
        assert len(fewest_groups(wishes)) == fewest_by_integer_program(wishes)


class TestSeveralQuantities:
    def test_all_quantities_have_to_fit(self):
        groups = fewest_groups([wish(10, 5), wish(10, 9), wish(11, 5)])

        assert [len(group.wishes) for group in groups] == [2, 1]

    @settings(max_examples=150)
    @given(boxes(2, 6) | boxes(3, 6))
    def test_no_way_of_grouping_needs_fewer(self, wishes):
        groups = fewest_groups(wishes)

        check(wishes, groups)
        assert len(groups) == fewest_by_trying_all(wishes)

    @settings(max_examples=15)
    @given(boxes(2, 20))
    def test_an_integer_program_needs_as_many(self, wishes):
        assert len(fewest_groups(wishes)) == fewest_by_integer_program(wishes)

    @given(boxes(2, 8), st.randoms())
    def test_the_order_of_the_wishes_does_not_matter(self, wishes, random):
        shuffled = list(wishes)
        random.shuffle(shuffled)

        assert said(fewest_groups(shuffled)) == said(fewest_groups(wishes))


def test_a_tolerance_below_nothing_is_refused():
    with pytest.raises(EngineError, match="below 0"):
        Tolerance(under_mm=Fraction(-1), over_mm=Fraction(1))
