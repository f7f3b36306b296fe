"""What a cut sheet says of the machines of its steps."""

from datetime import UTC, date, datetime

from projects.engine.plan.steps import Step
from projects.engine.steps.standing import Block, BlockKind, StepStanding, Way
from projects.models import Machine, SignOff
from projects.present.sheet_machines import sheet_machines
from projects.signoffs import standing

TODAY = date(2026, 3, 2)
SAW, PLANER = Machine(pk=1, kind="table_saw"), Machine(pk=2, kind="planer")


def place(title, *ways, is_done=False):
    """A step at the first of its ways, each `(machine, state)`."""
    lacking = tuple(machine for machine, state in ways if state != "open")
    is_open = len(lacking) < len(ways)
    kind: BlockKind = "no_machine"
    if any(state == "not_signed" for _machine, state in ways):
        kind = "sign_off"
    blocks = () if is_open or is_done else (Block(kind=kind, about=lacking),)
    return StepStanding(
        step=Step(key=title, title=title, stage="mill", machine=ways[0][0]),
        is_done=is_done,
        ways=tuple(Way(machine=m, note="", state=state) for m, state in ways),
        blocks=blocks,
        to_log=(),
    )


def said(*places, machines=(SAW, PLANER), **signed):
    found = {
        (7, machine.pk): standing(signed[machine.kind], today=TODAY)
        for machine in machines
        if machine.kind in signed
    }
    return [
        (line.name, line.words, line.is_signed, line.blocked, line.goes_another_way)
        for line in sheet_machines(7, places, machines, found)
    ]


def test_signed_off_blocks_nothing():
    row = SignOff(act="signed", lapses_on=TODAY)

    assert said(place("Rip", ("table_saw", "open")), table_saw=row) == [
        ("Table saw", "signed off until 2 Mar 2026", True, (), False)
    ]


def test_not_signed_off_names_the_steps_that_wait():
    places = [
        place("Rip", ("table_saw", "not_signed")),
        place("Crosscut", ("table_saw", "not_signed")),
        place("Plane", ("planer", "open")),
    ]

    assert said(*places, planer=SignOff(act="signed")) == [
        ("Table saw", "not signed off", False, ("Rip", "Crosscut"), False),
        ("Planer", "signed off", True, (), False),
    ]


def test_withdrawn_says_why():
    row = SignOff(
        act="withdrawn", note="guard off", at=datetime(2026, 3, 1, tzinfo=UTC)
    )
    ((_, words, is_signed, _, _),) = said(
        place("Rip", ("table_saw", "not_signed")), table_saw=row
    )

    assert words == "withdrawn on 1 Mar 2026: guard off"
    assert not is_signed


def test_of_two_alike_one_signed_off_is_enough():
    other = Machine(pk=3, kind="table_saw")
    found = {(7, 3): standing(SignOff(act="signed"), today=TODAY)}
    (line,) = sheet_machines(
        7, [place("Rip", ("table_saw", "open"))], [SAW, other], found
    )

    assert line.is_signed


def test_where_another_way_is_open_the_step_goes_that_way_only():
    ways = ("table_saw", "not_signed"), ("hand_tools", "open")

    assert said(place("Rip", *ways)) == [
        ("Table saw", "not signed off", False, (), True)
    ]


def test_a_step_blocked_both_ways_is_told_at_both():
    ways = ("table_saw", "not_signed"), ("planer", "not_signed")

    assert [line[3] for line in said(place("Rip", *ways))] == [("Rip",), ("Rip",)]


def test_a_machine_the_shop_lacks_is_told_where_steps_wait_for_it():
    waits = place("Bore", ("drill_press", "not_here"))
    goes_on = place("Rip", ("mitre_saw", "not_here"), ("hand_tools", "open"))

    assert said(waits, goes_on) == [
        ("Drill press", "not in this shop", False, ("Bore",), False)
    ]


def test_a_step_that_is_done_waits_for_nothing():
    assert said(place("Rip", ("table_saw", "not_signed"), is_done=True)) == [
        ("Table saw", "not signed off", False, (), False)
    ]


def test_the_bench_is_no_machine():
    assert said(place("Glue up", ("none", "open"))) == []
