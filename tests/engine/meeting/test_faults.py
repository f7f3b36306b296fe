"""What is wrong with a plan is found, on a night small enough to see it."""

import pytest

from projects.engine.meeting.faults import turn_faults
from projects.engine.meeting.records import Machine
from tests.engine.meeting.nights import night, student, turn, way

SAW = Machine(key="saw", setup_minutes=5)
DRILL = Machine(key="drill", units=2, most_people=2, down_from=50)
NIGHT = night(
    student("ann", way("saw", 10, "rip"), way(None, 20)),
    student("bo", way("saw", 10, "rip"), way("saw", 10, "dado"), present_from=10),
    student("cy", way("drill", 10)),
    student("di", way("drill", 10)),
    student("ed", way("drill", 10)),
    machines=(SAW, DRILL),
)
ANN = turn("ann", "0", "saw", 0, 10)
ANN_THEN = turn("ann", "1", None, 10, 30)
BO = turn("bo", "0", "saw", 10, 20)
BO_THEN = turn("bo", "1", "saw", 25, 35)
CY, DI, ED = (turn(who, "0", "drill", 0, 10) for who in ("cy", "di", "ed"))
ED_BESIDE = turn("ed", "0", "drill", 0, 10, unit=1)


def kinds(*turns, of=NIGHT):
    return {fault.kind for fault in turn_faults(turns, of)}


def test_a_plan_that_keeps_to_everything_has_no_fault():
    assert not kinds(ANN, ANN_THEN, BO, BO_THEN, CY, DI, ED_BESIDE)


@pytest.mark.parametrize(
    ("kind", "turns"),
    [
        ("unknown", [turn("ann", "7", "saw", 0, 10)]),
        ("unknown", [turn("gus", "0", "saw", 0, 10)]),
        ("way", [turn("ann", "0", "drill", 0, 10)]),
        ("way", [turn("ann", "0", None, 0, 10)]),
        ("minutes", [turn("ann", "0", "saw", 0, 9)]),
        ("early", [turn("bo", "0", "saw", 9, 19)]),
        ("late", [turn("ann", "0", "saw", 51, 61)]),
        ("twice", [ANN, turn("ann", "0", "saw", 10, 20)]),
        ("student", [ANN, turn("ann", "1", None, 9, 29)]),
        ("order", [ANN_THEN]),
        ("order", [turn("ann", "0", "saw", 30, 40), ANN_THEN]),
        ("unit", [turn("ann", "0", "saw", 0, 10, unit=1)]),
        ("down", [turn("cy", "0", "drill", 41, 51)]),
        ("people", [ANN, turn("bo", "0", "saw", 9, 19)]),
        ("people", [CY, DI, ED]),
        ("setup", [BO, turn("bo", "1", "saw", 24, 34)]),
    ],
)
def test_each_fault_is_found(kind, turns):
    assert kind in kinds(*turns)


def test_steps_with_the_same_setup_need_no_change_between_them():
    assert not kinds(ANN, BO)


def test_an_empty_setup_is_shared_with_nobody():
    both = night(student("ann", way("saw")), student("bo", way("saw")), machines=(SAW,))

    assert kinds(ANN, turn("bo", "0", "saw", 10, 20), of=both) == {"setup"}


def test_what_has_begun_must_stay_and_may_take_longer():
    long = turn("ann", "0", "saw", 2, 19)
    begun = night(*NIGHT.students, machines=(SAW, DRILL), now=12, begun=(long,))

    assert kinds(of=begun) == {"begun"}
    assert not kinds(long, of=begun)
    assert kinds(long, turn("cy", "0", "drill", 11, 21), of=begun) == {"early"}


def test_a_fault_says_who():
    (fault,) = turn_faults([ANN_THEN], NIGHT)

    assert str(fault) == "a step comes before one it needs: ann 1"
