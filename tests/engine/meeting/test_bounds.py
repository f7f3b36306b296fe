"""The parts by themselves: prices never say too little, any order keeps all rules."""

from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.meeting.annealing import annealed, first_order
from projects.engine.meeting.credit import worth
from projects.engine.meeting.faults import turn_faults
from projects.engine.meeting.prices import most_points
from projects.engine.meeting.queue import Queue
from projects.engine.meeting.records import Machine
from tests.engine.meeting.nights import night, nights, student, way
from tests.engine.meeting.test_solve import by_trying_all


@settings(max_examples=60, deadline=None)
@given(nights(most_students=2, most_steps=2, minutes=40), st.integers(1, 30))
def test_no_plan_is_above_the_bound_of_the_prices(given_night, rounds):
    best = by_trying_all(given_night)

    assert most_points(given_night, reached=best, rounds=rounds) >= best


@settings(deadline=None)
@given(nights(), st.randoms(use_true_random=False))
def test_any_order_makes_a_faultless_plan(given_night, source):
    queue = Queue(given_night)
    order = [source.random() for _ in queue.steps]
    wanted = [source.randrange(-1, len(step.ways)) for step in queue.steps]

    served = queue.serve(order, wanted)

    turns = queue.turns(served)
    assert not turn_faults(turns, given_night)
    assert served.points == worth(given_night, turns)


def test_a_machine_in_demand_lowers_the_bound():
    many = [student(f"s{n}", way("saw", 20)) for n in range(8)]
    given_night = night(*many, machines=(Machine(key="saw"),), minutes=60)

    loose = most_points(given_night, reached=0, rounds=1)
    tight = most_points(given_night, reached=3 * 3600 + 60, rounds=100)

    assert loose == 8 * (3600 + 40)  # each as if alone
    assert 3 * 3600 + 60 <= tight <= 1.02 * (3 * 3600 + 60)  # three of 20 minutes


def test_annealing_never_ends_below_where_it_began():
    given_night = night(
        *(student(f"s{n}", way("saw", 4 + n, "ab"[n % 2]), way()) for n in range(7)),
        machines=(Machine(key="saw", setup_minutes=5),),
    )
    queue = Queue(given_night)
    order = first_order(queue)
    began = queue.serve(order, [-1] * len(order)).points

    assert annealed(queue, order, moves=300).points >= began
