"""The order of setups: against every order there is."""

from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

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
