"""Plans of meetings: faultless on any night, the best on tiny ones, kept on replanning.

The tiny nights are checked against trying every order with every way and unit.
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from projects.engine.meeting.credit import worth
from projects.engine.meeting.faults import faults
from projects.engine.meeting.records import Machine, MeetingError
from projects.engine.meeting.solve import night_of, replan, solve
from tests.engine.meeting.nights import night, nights, student, turn, way

SAW = Machine(key="saw", setup_minutes=5)


def planned(given_night, **more):
    """Solve by counted work, for the same plan on any computer."""
    return solve(given_night, seconds=0.5, workers=1, effort=2, **more)


def replanned(plan, given_night, now):
    return replan(plan, given_night, now, seconds=0.5, workers=1, effort=2)


def by_trying_all(given_night):
    """Return the most points: any plan moved left is an order, with ways and units.

    A unit for several people is as many for one, without setups.
    """
    lanes = {
        (machine.key, n): (0, None)
        for machine in given_night.machines
        for n in range(machine.units * machine.most_people)
    }
    at = {who.key: who.present_from for who in given_night.students}
    return _most_from(given_night, lanes, at, frozenset())


def _most_from(given_night, lanes, at, placed):
    best = 0
    for who in given_night.students:
        k = who.done + 1 + sum(key == who.key for key, _ in placed)
        for task in who.tasks:
            needs = {(who.key, a) for a, b in who.pairs if b == task.key}
            if (who.key, task.key) in placed or not needs <= placed:
                continue
            for lane, setup, end in _places(given_night, lanes, at[who.key], task):
                gain = 60 * given_night.minutes // k + given_night.minutes - end
                then = _most_from(
                    given_night,
                    lanes if lane is None else {**lanes, lane: (end, setup)},
                    {**at, who.key: end},
                    placed | {(who.key, task.key)},
                )
                best = max(best, gain + then)
    return best


def _places(given_night, lanes, ready, task):
    """Give each lane a step can be in next, with its setup and end there."""
    for some in task.ways:
        if some.machine is None:
            places = [(None, ready + some.minutes, given_night.minutes)]
        else:
            machine = given_night.machine_by_key[some.machine]
            until = given_night.minutes
            if machine.down_from is not None:
                until = min(until, machine.down_from)
            places = []
            for lane, (last, setup) in lanes.items():
                same = setup is None or setup == some.setup != ""
                change = machine.setup_minutes * (machine.changes and not same)
                if lane[0] == machine.key:
                    end = max(ready, last + change) + some.minutes
                    places.append((lane, end, until))
        for lane, end, until in places:
            if end <= until:
                yield lane, some.setup, end


@settings(max_examples=60, deadline=None)
@given(nights())
def test_any_night_gets_a_faultless_plan_within_its_bound(given_night):
    plan = planned(given_night)

    assert not faults(plan, given_night)
    assert plan.value == worth(given_night, plan.turns) <= plan.bound


@settings(max_examples=60, deadline=None)
@given(nights(most_students=2, most_steps=2, minutes=40))
def test_a_tiny_night_gets_the_best_plan_and_the_proof(given_night):
    plan = planned(given_night)

    assert plan.value == plan.bound == by_trying_all(given_night)
    assert plan.is_proven
    assert plan.gap == 0


def test_three_students_at_one_saw_get_the_best_plan():
    given_night = night(
        student("ann", way("saw", 10, "rip"), way("saw", 8, "dado")),
        student("bo", way("saw", 12, "rip"), (way("saw", 9, "dado"), way(None, 18))),
        student("cy", way("saw", 7, "dado"), present_from=5),
        machines=(SAW,),
        minutes=50,
    )

    plan = planned(given_night)

    assert plan.is_proven
    assert plan.value == by_trying_all(given_night)


def test_a_first_step_goes_before_the_third_of_another():
    given_night = night(
        student("ann", way("saw", 20), done=2),
        student("bo", way("saw", 20)),
        machines=(Machine(key="saw"),),
        minutes=30,
    )

    assert [t.student for t in planned(given_night).turns] == ["bo"]


def test_students_who_share_a_setup_follow_each_other():
    given_night = night(
        student("ann", way("saw", 10, "rip")),
        student("bo", way("saw", 11, "dado")),
        student("cy", way("saw", 12, "rip")),
        machines=(SAW,),
        minutes=60,
    )

    order = [t.student for t in planned(given_night).turns]

    assert order in (["ann", "cy", "bo"], ["bo", "ann", "cy"])


def test_a_step_nobody_may_do_is_left_out_with_what_needs_it():
    given_night = night(student("ann", way(), (), way()))

    assert [t.task for t in planned(given_night).turns] == ["0"]


@pytest.mark.parametrize(
    "given_night", [night(), night(student("ann", way(minutes=99)))]
)
def test_a_night_without_a_step_that_fits_has_an_empty_plan(given_night):
    plan = planned(given_night)

    assert plan.turns == ()
    assert (plan.value, plan.bound, plan.gap) == (0, 0, 0)


def test_counted_work_gives_the_same_plan_again():
    given_night = night(
        *(student(f"s{n}", way("saw", 5 + n, "ab"[n % 2]), way()) for n in range(6)),
        machines=(SAW,),
    )

    assert planned(given_night) == planned(given_night)


@settings(max_examples=40, deadline=None)
@given(nights(), nights())
def test_replanning_any_change_keeps_what_has_begun(given_night, other):
    plan, now = planned(given_night), 15
    down = (
        replace(given_night, machines=other.machines)
        if {m.key for m in given_night.machines} <= {m.key for m in other.machines}
        else given_night
    )

    later = replanned(plan, down, now)

    as_planned = night_of(plan, down, now)
    assert not faults(later, as_planned)
    assert set(as_planned.begun) <= set(plan.turns) & set(later.turns)
    assert all(t.start >= now for t in later.turns if t not in as_planned.begun)


def test_a_late_student_and_a_machine_that_went_down_are_planned_round():
    ways = (way("saw", 20, "rip"), way(None, 25))
    first = night(
        student("ann", ways), student("bo", ways), machines=(SAW,), minutes=60
    )
    plan = planned(first)
    assert all(t.start == 0 for t in plan.turns)
    changed = replace(
        first,
        machines=(replace(SAW, down_from=8),),
        students=(first.students[0], replace(first.students[1], present_from=30)),
    )

    later = replanned(plan, changed, 10)

    # whoever sawed begins anew at the bench, whoever is late comes at 30
    times = {t.student: (t.machine, t.start, t.end) for t in later.turns}
    assert times["bo"] == (None, 30, 55)
    assert times["ann"] in ((None, 0, 25), (None, 10, 35))


def test_a_turn_that_takes_longer_pushes_what_follows():
    first = night(
        student("ann", way("saw", 10, "a")),
        student("bo", way("saw", 12, "a")),
        machines=(SAW,),
    )
    plan = planned(first)
    told = replace(first, begun=(turn("ann", "0", "saw", 0, 18),))

    later = replanned(plan, told, 11)

    assert [(t.start, t.end) for t in later.turns] == [(0, 18), (18, 30)]


def test_what_has_begun_stays_where_minutes_and_setups_are_told_otherwise_by_now():
    first = night(
        student("ann", way("saw", 10, "a")),
        student("bo", way("saw", 10, "a")),
        machines=(SAW,),
    )
    plan = planned(first)
    told = night(
        student("ann", way("saw", 14, "a")),
        student("bo", way("saw", 14, "b")),
        machines=(SAW,),
    )

    later = replanned(plan, told, 12)

    assert later.turns == plan.turns
    assert not faults(later, night_of(plan, told, 12))


def test_the_last_step_ends_as_early_as_it_can():
    given_night = night(
        student("ann", way("saw", 10, "a"), way("drill", 5)),
        student("bo", way("drill", 6), way("saw", 10, "b")),
        machines=(SAW, Machine(key="drill")),
        minutes=99,
    )

    plan = planned(given_night, objective="last_end")

    assert (plan.value, plan.bound) == (25, 25)  # 10, a change of 5, 10


def test_steps_that_do_not_all_fit_are_refused_where_all_must_be_done():
    too_long = night(student("ann", way(minutes=40), way(minutes=40)))
    too_many = night(
        *(student(f"s{n}", way("saw", 25)) for n in range(3)),
        machines=(Machine(key="saw"),),
    )

    for given_night in (too_long, too_many):
        with pytest.raises(MeetingError):
            planned(given_night, objective="last_end")


def test_what_cannot_have_begun_is_refused():
    clash = (turn("ann", "0", "saw", 0, 10), turn("bo", "0", "saw", 5, 15))
    given_night = night(
        student("ann", way("saw")),
        student("bo", way("saw")),
        machines=(SAW,),
        now=20,
        begun=clash,
    )

    with pytest.raises(MeetingError, match="too many people at a machine"):
        planned(given_night)


def test_an_order_that_runs_in_a_circle_is_refused():
    before = (("0", "1"), ("1", "0"))

    with pytest.raises(MeetingError, match="circle"):
        planned(night(student("ann", way(), way(), before=before)))


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Machine(key="saw", units=0),
        lambda: way(minutes=0),
        lambda: night(student("ann", way("lathe"))),
        lambda: night(student("ann", way()), student("ann", way())),
        lambda: night(student("ann", way(), before=(("0", "9"),))),
    ],
)
def test_a_night_that_makes_no_sense_is_refused(wrong):
    with pytest.raises(MeetingError):
        wrong()
