"""How long the steps of a meeting take where, and who can share a setup there."""

import json
from datetime import timedelta

import pytest
from django.utils import timezone

from projects.engine.shop.machines import HAND_TOOLS
from projects.meeting_night import evening_of, night_of
from projects.models import Meeting
from projects.night_minutes import change_minutes, step_minutes
from tests.factories import (
    PLYWOOD,
    POPLAR,
    MachineFactory,
    ShopClassFactory,
    enrol,
    log,
    plan_data,
    sign_off,
)
from tests.projects.views.step_plans import step

BY_HAND = {"other_ways": [{"machine": HAND_TOOLS}]}
GROOVE = step(
    "groove",
    "left_side",
    "right_side",
    stage="joinery",
    machine="table_saw",
    joints=["back_left", "back_right"],
    **BY_HAND,
)
CUTS = step(
    "cuts",
    "left_side",
    "shelf",
    stage="joinery",
    machine="table_saw",
    joints=["back_left", "shelf_left"],
)
TRIM = step("trim", "seat", "divider", machine="mitre_saw")
SAND = step("sand", "left_side", stage="sanding", machine="table_saw")
RAILS = step("rails", "back_rail", stage="fitted", machine="mitre_saw")


@pytest.fixture
def shop_of(db):
    """Return a class whose plan has these steps, with saws and hand tools."""

    def made(*steps):
        document = json.dumps(plan_data() | {"steps": list(steps)})
        shop_class = ShopClassFactory(revision__document=document)
        for kind in ("table_saw", "mitre_saw", HAND_TOOLS):
            MachineFactory(shop=shop_class.shop, kind=kind, setup_minutes=4)
        return shop_class

    return made


def come(shop_class, plywood="0.240", poplar="0.742"):
    """Let a student come who has measured the stock and is signed off everywhere."""
    build = enrol(shop_class)
    log(build, POPLAR, poplar)
    log(build, PLYWOOD, plywood)
    for machine in shop_class.shop.machines.all():
        sign_off(build.student, machine)
    return build


def evening(shop_class):
    now = timezone.now()
    meeting = Meeting.objects.create(
        shop_class=shop_class, starts_at=now - timedelta(minutes=5), minutes=120
    )
    return evening_of(meeting, now=now)


def ways(shop_class, kind):
    """Return each build's first step at a kind of machine."""
    machine = shop_class.shop.machines.get(kind=kind)
    night = night_of(evening(shop_class))
    return {
        int(student.key): next(
            way for way in student.tasks[0].ways if way.machine == str(machine.pk)
        )
        for student in night.students
    }


class TestMinutes:
    @pytest.mark.parametrize(
        ("stage", "minutes"),
        [
            ("mill", 48),
            ("joinery", 36),
            ("fitted", 36),
            ("sanding", 24),
            ("finish", 12),
        ],
    )
    def test_cutting_by_hand_takes_as_many_times_a_plain_step(self, stage, minutes):
        bench = MachineFactory.build(kind=HAND_TOOLS, step_minutes=12, shop=None)

        assert step_minutes(bench, HAND_TOOLS, stage) == minutes

    def test_a_machine_takes_what_is_set_for_it_whatever_the_stage(self):
        saw = MachineFactory.build(step_minutes=12, shop=None)

        assert {step_minutes(saw, "table_saw", s) for s in ("mill", "finish")} == {12}

    def test_a_bench_that_is_not_listed_takes_longer_by_hand_too(self):
        assert step_minutes(None, "none", "joinery") == 10
        assert step_minutes(None, HAND_TOOLS, "joinery") == 30

    def test_hand_tools_have_no_change_of_setup(self, shop_of):
        shop_class = shop_of(GROOVE)
        hand, saw = (
            shop_class.shop.machines.get(kind=kind)
            for kind in (HAND_TOOLS, "table_saw")
        )
        machines = night_of(evening(shop_class)).machine_by_key

        assert (change_minutes(hand), change_minutes(saw)) == (0, 4)
        assert not machines[str(hand.pk)].changes
        assert machines[str(saw.pk)].changes

    def test_a_groove_by_hand_takes_three_times_as_long_as_at_the_saw(self, shop_of):
        shop_class = shop_of(GROOVE)
        build = come(shop_class)

        assert ways(shop_class, "table_saw")[build.pk].minutes == 10
        assert ways(shop_class, HAND_TOOLS)[build.pk].minutes == 30


class TestSharing:
    def test_sheets_within_the_tolerance_share_a_setup(self, shop_of):
        shop_class = shop_of(GROOVE)
        builds = [come(shop_class, plywood) for plywood in ("0.240", "0.242")]
        found = ways(shop_class, "table_saw")

        assert found[builds[0].pk].setup == found[builds[1].pk].setup != ""

    def test_a_thicker_sheet_needs_a_setup_of_its_own(self, shop_of):
        shop_class = shop_of(GROOVE)
        builds = [come(shop_class, p) for p in ("0.240", "0.242", "0.251")]
        found = [ways(shop_class, "table_saw")[build.pk].setup for build in builds]

        assert found[0] == found[1] != found[2] != ""

    def test_each_further_setup_of_a_step_takes_a_change(self, shop_of):
        shop_class = shop_of(CUTS)
        build = come(shop_class)

        # the groove, and the dado
        assert ways(shop_class, "table_saw")[build.pk].minutes == 10 + 4

    def test_lengths_of_one_kind_are_shared_where_all_are_alike(self, shop_of):
        shop_class = shop_of(TRIM)
        alike, same, other = (
            come(shop_class, poplar=p) for p in (".742", ".743", ".79")
        )
        found = ways(shop_class, "mitre_saw")

        assert found[alike.pk].minutes == 10 + 4
        assert found[alike.pk].setup == found[same.pk].setup != ""
        assert found[other.pk].setup != found[alike.pk].setup

    def test_setups_of_two_kinds_are_shared_with_nobody(self, shop_of):
        shop_class = shop_of(CUTS)
        come(shop_class)
        come(shop_class)

        assert {way.setup for way in ways(shop_class, "table_saw").values()} == {""}

    def test_a_step_that_sets_nothing_is_shared_by_all(self, shop_of):
        shop_class = shop_of(SAND)
        come(shop_class)
        come(shop_class, "0.251", ".79")

        found = ways(shop_class, "table_saw").values()
        assert len({way.setup for way in found}) == 1
        assert {way.minutes for way in found} == {10}

    def test_what_an_earlier_task_measures_is_shared_with_nobody_yet(self, shop_of):
        look = step("look", "seat", machine="none", measures=["stock:ply14"])
        shop_class = shop_of(look, GROOVE | {"measured_first": ["stock:ply14"]})
        for _ in range(2):
            build = enrol(shop_class)
            for machine in shop_class.shop.machines.all():
                sign_off(build.student, machine)
        students = night_of(evening(shop_class)).students
        grooves = [student.tasks[1].ways[0] for student in students]

        assert [way.setup for way in grooves] == ["", ""]
