"""A run sheet keeps each part's cuts in turn, worked by hand; and rabbets' widths.

A tenon's shoulders come before its cheeks: with the stop at the tenon's end a later
shoulder cut would free a loose piece between blade and stop. Source: common practice,
no source.
"""

import json
from fractions import Fraction
from itertools import permutations
from pathlib import Path

import pytest

from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Readings
from projects.engine.setups.ordering import total
from projects.engine.setups.run_sheet import Job, _before, _set_up, run_sheet
from projects.engine.setups.setting_records import KINDS
from projects.engine.setups.settings import step_settings
from projects.engine.steps import propose
from tests.engine.builds import inches, plan, solved
from tests.engine.setups.setting_builds import case, framed, numbers, settings, step

PLANS = Path("projects/demo/plans")
TENON = {"depth": "1", "tenon": {"thickness": "1/4", "edge_shoulder": "1/2"}}


def jobs(solution, machine, *joints, who="Ann", key="s", **more):
    found = settings(solution, machine, *joints, key=key, **more)
    return [Job(who=who, step=key, setting=setting) for setting in found]


def in_turn(sheet):
    """Return whether each part's cuts of a step stand in the order of kinds."""
    last: dict[tuple[object, str, str], int] = {}
    for setup in sheet.setups:
        place = KINDS.index(setup.kind)
        for job in setup.jobs:
            for piece in job.setting.pieces:
                key = job.who, job.step, piece.part
                if last.get(key, 0) > place:
                    return False
                last[key] = place
    return True


def test_shoulders_come_before_cheeks():
    """The rail has shoulders of 1/4 and 1/2, cheeks that leave 1/2 and 3 1/2.

    Cheeks first would cost as little: three changes of height less one either way.
    """
    solution = framed("tenon", **TENON)
    sheet = run_sheet(jobs(solution, "table_saw", "j", parts=("rail",)))

    assert [setup.kind for setup in sheet.setups] == [
        "shoulder", "shoulder", "cheek", "cheek",
    ]  # fmt: skip
    assert sheet.changes == (1, 2, 2)
    assert sheet.is_proven


def test_a_part_is_ripped_before_it_is_crosscut():
    of = step("table_saw", stage="mill", parts=("left_side", "right_side"))
    ply = case()
    ply["stock"] = [{**ply["stock"][0], "kind": "plywood"}]
    solution = solved(ply)
    settings_ = step_settings(solution, of, "table_saw")
    # the other way round, so that nothing is right by the order they came in
    sheet = run_sheet(
        [Job(who="Ann", step="s", setting=setting) for setting in reversed(settings_)]
    )

    assert [setup.kind for setup in sheet.setups] == ["rip", "crosscut"]


def test_least_change_orders_the_rest():
    """Two rails of one thickness, one longer tenon: against every order there is."""
    one = framed("tenon", **TENON)
    two = framed("tenon", **{**TENON, "depth": "1 1/2"})
    every = [
        *jobs(one, "table_saw", "j", parts=("rail",)),
        *jobs(two, "table_saw", "j", parts=("rail",), who="Bo"),
    ]
    sheet = run_sheet(every)
    best = min(
        total([_set_up(setup) for setup in order])
        for order in permutations(sheet.setups)
        if not any(
            order.index(sheet.setups[b]) < order.index(sheet.setups[a])
            for a, b in _before(sheet.setups)
        )
    )

    assert len(sheet.setups) == 8
    assert in_turn(sheet)
    assert (sheet.changes, sheet.is_proven) == (best, True)


def test_other_students_cuts_hold_nobody_up():
    """Bo's cheeks may come before Ann's shoulders: they share no setup here."""
    other = framed("tenon", **{**TENON, "depth": "1 1/2"})
    setups = run_sheet(
        [
            *jobs(framed("tenon", **TENON), "table_saw", "j", parts=("rail",)),
            *jobs(other, "table_saw", "j", parts=("rail",), who="Bo"),
        ]
    ).setups
    pairs = _before(setups)

    assert {(setups[a].kind, setups[b].kind) for a, b in pairs} == {
        ("shoulder", "cheek")
    }
    assert all(setups[a].jobs[0].who == setups[b].jobs[0].who for a, b in pairs)


@pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool", "tool_tray"])
@pytest.mark.parametrize("machine", ["table_saw", "router_table", "band_saw"])
def test_a_whole_plan_at_one_machine_keeps_in_turn(name, machine):
    read = plan(json.loads((PLANS / f"{name}.json").read_text("utf-8")))
    solution = solve(read, Readings())
    sheet = run_sheet(
        [
            Job(who=who, step=of.key, setting=setting)
            for who in ("Ann", "Bo")
            for of in propose(read)
            for setting in step_settings(solution, of, machine)
        ]
    )

    assert in_turn(sheet)


class TestRabbet:
    """At the end the stop says how wide the rabbet gets, 0.750 to 0.758 here.

    What sits in it is the thickest reading and 0.005 wide: whoever gets it narrower
    can't close the joint. So it may be 0.005 wider, never narrower, as any slot.
    """

    def sheet(self, *thick):
        found = []
        for who, mm in enumerate(thick):
            read = {"stock": {"board": [mm]}}
            solution = framed("rabbet", readings=read, depth="3/8", clearance="0.005")
            found += jobs(solution, "table_saw", "j", who=who, parts=("stile",))
        return run_sheet(found)

    def test_is_never_narrower_than_wanted(self):
        sheet = self.sheet("0.745", "0.748", "0.750")

        [setup] = sheet.setups
        assert (setup.kind, setup.side) == ("rabbet", "far")
        assert setup.at["stop"] == inches("0.755")

    def test_beyond_the_slots_tolerance_it_is_another_setup(self):
        """0.758 is 0.008 over 0.750: within 1/64, but not within 0.005."""
        sheet = self.sheet("0.745", "0.753")

        assert [setup.at["stop"] for setup in sheet.setups] == [
            inches("0.750"), inches("0.758"),
        ]  # fmt: skip
        for setup in sheet.setups:
            for job in setup.jobs:
                assert job.setting.stop_mm is not None
                assert job.setting.stop_mm <= setup.at["stop"]

    def test_a_lap_at_the_end_is_held_to_the_same(self):
        sheet = run_sheet(
            [
                *jobs(framed("half_lap"), "table_saw", "j", parts=("stile",)),
                *jobs(framed("half_lap", clearance="0.004"), "table_saw", "j",
                      who="Bo", parts=("stile",)),
            ]
        )  # fmt: skip

        assert [setup.at["stop"] for setup in sheet.setups] == [inches("4.004")]


def test_both_numbers_of_a_slot_that_stops_at_both_edges_are_kept():
    """1/2 short of the front and 3/4 of the back, the nearer one first."""
    stops = [{"at": "back", "by": "3/4"}, {"at": "front", "by": "1/2"}]
    solution = solved(case(stops=stops))
    parts = ("left_side", "right_side")
    found = jobs(solution, "router_table", "shelf_left", "shelf_right", parts=parts)
    [setup] = run_sheet(found).setups

    assert numbers(found[0].setting)["other_short"] == Fraction(3, 4)
    assert setup.at["short"] == inches("1/2")
    assert setup.at["other_short"] == inches("3/4")
