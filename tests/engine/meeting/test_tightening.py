"""Nobody waits beside a free machine, or works by hand what it would do sooner."""

from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.meeting.credit import worth
from projects.engine.meeting.faults import turn_faults
from projects.engine.meeting.queue import Queue
from projects.engine.meeting.records import Machine
from projects.engine.meeting.solve import solve
from projects.engine.meeting.tightening import tightened
from tests.engine.meeting.nights import night, nights, student, turn, way

SAW = Machine(key="saw", setup_minutes=5)
GROOVE = (way("saw", 10, "groove"), way(None, 30))


def test_a_step_by_hand_goes_to_the_machine_that_stands_idle():
    given_night = night(student("ann", GROOVE), machines=(SAW,))

    assert tightened(given_night, [turn("ann", "0", None, 0, 30)]) == (
        turn("ann", "0", "saw", 0, 10),
    )


def test_by_hand_it_stays_where_that_ends_sooner():
    given_night = night(
        student("ann", way("saw", 30, "rip")), student("bo", GROOVE), machines=(SAW,)
    )
    turns = (turn("ann", "0", "saw", 0, 30), turn("bo", "0", None, 0, 30))

    assert tightened(given_night, turns) == turns


def test_a_gap_is_used_only_with_room_for_both_changes():
    given_night = night(
        student("ann", way("saw", 10, "rip")),
        student("bo", way("saw", 10, "rip"), present_from=29),
        student("cy", GROOVE),
        machines=(SAW,),
    )
    around = (turn("ann", "0", "saw", 0, 10), turn("bo", "0", "saw", 29, 39))
    by_hand = turn("cy", "0", None, 0, 30)

    # 10 + 5 + 10 + 5 is one more than 29
    assert by_hand in tightened(given_night, [*around, by_hand])
    later = (around[0], turn("bo", "0", "saw", 30, 40))
    moved = tightened(
        night(
            given_night.students[0],
            student("bo", way("saw", 10, "rip"), present_from=30),
            given_night.students[2],
            machines=(SAW,),
        ),
        [*later, by_hand],
    )
    assert turn("cy", "0", "saw", 15, 25) in moved


def test_a_next_step_that_still_fits_is_added():
    given_night = night(student("ann", way("saw", 10), way("saw", 10)), machines=(SAW,))

    added = tightened(given_night, [turn("ann", "0", "saw", 0, 10)])

    assert turn("ann", "1", "saw", 15, 25) in added


def test_what_has_begun_is_left_alone():
    begun = turn("ann", "0", None, 0, 30)
    given_night = night(student("ann", GROOVE), machines=(SAW,), now=5, begun=(begun,))

    assert tightened(given_night, [begun]) == (begun,)


@settings(deadline=None)
@given(nights(), st.randoms(use_true_random=False))
def test_any_plan_stays_faultless_and_is_worth_no_less(given_night, source):
    queue = Queue(given_night)
    order = [source.random() for _ in queue.steps]
    wanted = [source.randrange(-1, len(step.ways)) for step in queue.steps]
    turns = queue.turns(queue.serve(order, wanted))

    tight = tightened(given_night, turns)

    assert not turn_faults(tight, given_night)
    assert worth(given_night, tight) >= worth(given_night, turns)
    assert tightened(given_night, tight) == tight


@settings(max_examples=30, deadline=None)
@given(nights())
def test_a_solved_night_leaves_nothing_idle(given_night):
    plan = solve(given_night, seconds=0.2, workers=1, effort=0.2)

    assert tightened(given_night, plan.turns) == plan.turns
