"""The order of setups: against every order there is."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projects.engine.errors import EngineError
from projects.engine.setups import ordering
from projects.engine.setups.ordering import least_change, total

setups = st.lists(st.tuples(*[st.integers(0, 2)] * 3), min_size=1, max_size=6)


def test_nothing_to_order():
    assert least_change([]).indices == ()


def test_the_stack_stays_before_the_stop_does():
    order = least_change([("3/4", 9), ("1/4", 9), ("3/4", 12), ("1/4", 12)])
    stacks = [("3/4", "1/4", "3/4", "1/4")[n] for n in order.indices]

    assert order.changes == (1, 2)
    assert stacks in (["3/4", "3/4", "1/4", "1/4"], ["1/4", "1/4", "3/4", "3/4"])


def test_a_stop_is_carried_over_where_the_stack_changes():
    order = least_change([("a", 1), ("b", 3), ("a", 2), ("b", 1)])

    assert order.changes == (1, 2)


@given(setups)
def test_no_order_has_fewer_changes(made):
    order = least_change(made)
    ordered = [made[n] for n in order.indices]

    assert sorted(order.indices) == list(range(len(made)))
    assert order.is_proven
    assert order.changes == total(ordered)
    assert order.changes == min(total(other) for other in permutations(made))


@given(setups)
def test_the_search_without_proof_says_so_unless_it_meets_the_bound(made):
    exact = least_change(made).changes
    most, ordering.MOST_EXACT = ordering.MOST_EXACT, 0
    try:
        found = least_change(made)
    finally:
        ordering.MOST_EXACT = most

    assert sorted(found.indices) == list(range(len(made)))
    assert found.changes >= exact
    if found.is_proven:
        assert found.changes == exact


def test_thirty_setups_take_no_noticeable_time():
    made = [(n % 4, n % 7, n) for n in range(30)]
    order = least_change(made)

    assert order.changes[0] == 3
    assert not order.is_proven or order.changes == (3, 6, 29)


kinds = st.lists(
    st.tuples(st.integers(0, 3), st.integers(0, 1), st.integers(0, 2)),
    min_size=1,
    max_size=6,
)
"""Setups whose first quantity is their kind, as a run sheet has them."""


def pairs_of(made, chosen):
    """Return pairs of setups of different kinds, the lower kind first."""
    return {
        (one, other)
        for one in range(len(made))
        for other in range(len(made))
        if made[one][0] < made[other][0] and (one * 7 + other) % 3 in chosen
    }


def keeps(order, pairs):
    place = {n: at for at, n in enumerate(order)}
    return all(place[one] < place[other] for one, other in pairs)


@given(kinds, st.sets(st.integers(0, 2)))
def test_no_order_that_keeps_what_comes_before_has_fewer_changes(made, chosen):
    pairs = pairs_of(made, chosen)
    order = least_change(made, before=pairs)

    assert sorted(order.indices) == list(range(len(made)))
    assert keeps(order.indices, pairs)
    assert order.is_proven
    assert order.changes == min(
        total([made[n] for n in other])
        for other in permutations(range(len(made)))
        if keeps(other, pairs)
    )


@given(kinds, st.sets(st.integers(0, 2)))
def test_the_search_without_proof_keeps_what_comes_before_too(made, chosen):
    pairs = pairs_of(made, chosen)
    exact = least_change(made, before=pairs).changes
    most, ordering.MOST_EXACT = ordering.MOST_EXACT, 0
    try:
        found = least_change(made, before=pairs)
    finally:
        ordering.MOST_EXACT = most

    assert sorted(found.indices) == list(range(len(made)))
    assert keeps(found.indices, pairs)
    assert found.changes == total([made[n] for n in found.indices])
    assert found.changes >= exact
    if found.is_proven:
        assert found.changes == exact


def test_what_comes_before_costs_a_change_where_it_must():
    """The stop at 1 serves both kinds; but the cheek of it needs another shoulder."""
    made = [("shoulder", 1), ("shoulder", 2), ("cheek", 1)]

    assert least_change(made).changes == (1, 1)
    assert least_change(made, before={(0, 2), (1, 2)}).indices == (1, 0, 2)
    turned = [("shoulder", 1), ("cheek", 1), ("cheek", 2), ("hole", 1)]
    order = least_change(turned, before={(0, 1), (0, 2), (1, 3), (2, 3)})
    assert order.indices in ((0, 1, 2, 3), (0, 2, 1, 3))
    assert order.changes == (2, 2)


def test_setups_that_each_come_before_the_other_are_refused():
    with pytest.raises(EngineError, match="each come before the other"):
        least_change([("a", 1), ("b", 1)], before={(0, 1), (1, 0)})
