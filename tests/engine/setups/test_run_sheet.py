"""A run sheet: who shares a setup, within which tolerance, in which order."""

from fractions import Fraction
from itertools import pairwise
from typing import cast

from projects.engine.fit.system import Form
from projects.engine.setups.grouping import Tolerance
from projects.engine.setups.run_sheet import TOLERANCES, Job, run_sheet
from projects.engine.setups.setting_records import Name, Quantity, Setting

IN = Fraction("25.4")


def setting(kind="slot", rest="stop", waits=(), **inches):
    return Setting(
        key=f"cut:table_saw:{kind}:{rest}:near",
        kind=kind,
        machine="table_saw",
        rest=rest,
        side="near",
        quantities=tuple(
            Quantity(
                name=cast(Name, name),
                key=f"cut:{name}",
                mm=None if waits else Fraction(value) * IN,
                form=Form(terms=()),
                extras=(),
            )
            for name, value in inches.items()
        ),
        pieces=(),
        waits=waits,
    )


def job(who, step="cut", **inches):
    return Job(who=who, step=step, setting=setting(**inches))


def who(setup):
    return [one.who for one in setup.jobs]


def test_students_within_the_tolerance_share_a_setup():
    sheet = run_sheet(
        [
            job("Ann", stop="5.625", width="0.747", height="0.375"),
            job("Bo", stop="5.625", width="0.744", height="0.375"),
            job("Cy", stop="5.625", width="0.760", height="0.375"),
        ]
    )

    assert [set(who(setup)) for setup in sheet.setups] == [{"Ann", "Bo"}, {"Cy"}]
    assert sheet.setups[0].at["width"] == Fraction("0.747") * IN
    assert sheet.is_proven


def test_a_slot_is_never_set_narrower_than_wanted():
    sheet = run_sheet(
        [job(n, width=f"0.7{40 + n}", stop="5", height="0.375") for n in range(12)]
    )

    assert [len(setup.jobs) for setup in sheet.setups] == [6, 6]
    for setup in sheet.setups:
        for one in setup.jobs:
            wanted = one.setting.width_mm
            assert wanted is not None
            assert wanted <= setup.at["width"] <= wanted + Fraction("0.005") * IN


def test_the_same_setup_serves_different_steps():
    sheet = run_sheet(
        [
            job("Ann", "shelf", stop="5", width="0.75", height="0.375"),
            job("Ann", "seat", stop="5", width="0.75", height="0.375"),
        ]
    )

    assert len(sheet.setups) == 1
    assert {one.step for one in sheet.setups[0].jobs} == {"shelf", "seat"}


def test_a_fence_and_a_stop_are_different_setups():
    sheet = run_sheet([job("Ann", stop="5"), job("Bo", stop="5", rest="fence")])

    assert len(sheet.setups) == 2


def test_what_waits_for_a_dry_fit_is_told_apart():
    waits = job("Ann", stop="5", waits=("opening",))
    sheet = run_sheet([waits, job("Bo", stop="5")])

    assert sheet.waiting == (waits,)
    assert [who(setup) for setup in sheet.setups] == [["Bo"]]


def test_the_stack_is_changed_least():
    jobs = [
        job(n, width=("0.25", "0.75")[n % 2], stop=str(2 + n), height="0.375")
        for n in range(6)
    ]
    sheet = run_sheet(jobs)
    widths = [setup.at["width"] for setup in sheet.setups]

    assert len(sheet.setups) == 6
    assert sum(a != b for a, b in pairwise(widths)) == 1
    assert sheet.changes == (1, 0, 5)


def test_nobody_makes_an_empty_sheet():
    sheet = run_sheet([])

    assert sheet.setups == ()
    assert sheet.is_proven


def test_a_tolerance_of_the_shop_counts():
    wide = {**TOLERANCES, "stop": Tolerance(under_mm=IN, over_mm=IN)}
    jobs = [job("Ann", stop="5"), job("Bo", stop="6.5")]

    assert len(run_sheet(jobs).setups) == 2
    assert len(run_sheet(jobs, tolerances=wide).setups) == 1
