"""The demo's class night: the shop, the sign-offs, and where everybody stands."""

from datetime import timedelta

import pytest
from django.utils import timezone

from projects import actions, adapters, overview, progress, signoffs
from projects.demo.evening import DONE
from projects.demo.machines import INVENTED, TYPED
from projects.engine.shop.equipment import EQUIPMENT, read_equipment
from projects.models import (
    Build,
    CheckTaken,
    Machine,
    NearMiss,
    RequirementRecord,
    ShopClass,
    SignOff,
    StepMark,
    User,
)
from projects.present.overview import SHOWS, Asked, all_rows
from projects.present.overview import overview as shown


@pytest.fixture
def shop_class(loaded):
    return ShopClass.objects.get()


@pytest.fixture
def seen(shop_class):
    """What the overview is made from."""
    roll = overview.roll_of(shop_class, now=timezone.now())
    return roll, overview.rows_of(roll)


@pytest.fixture
def rows(seen):
    """The overview's rows, by the student's first name."""
    return {row.name.partition(" ")[0]: row for row in all_rows(*seen)}


def record(username, kind):
    machine = Machine.objects.get(kind=kind)
    student = User.objects.get(username=username)
    today = timezone.localdate()
    return signoffs.machine_record(student.pk, machine, today=today)


class TestShop:
    def test_it_has_what_the_class_uses(self, loaded):
        hanne = User.objects.get(username="hanne")

        assert set(Machine.objects.values_list("kind", flat=True)) == set(TYPED)
        assert actions.add_machines_wanted(hanne, hanne.shop) == []

    @pytest.mark.parametrize("kind", list(TYPED))
    def test_every_figure_can_be_read_and_is_said_to_be_invented(self, loaded, kind):
        machine = Machine.objects.get(kind=kind)

        assert read_equipment(kind, machine.limits).keys() == machine.limits.keys()
        assert set(machine.limits) <= {one.key for one in EQUIPMENT[kind]}
        assert INVENTED in machine.cautions

    def test_each_asks_the_usual_and_ten_questions_and_lapses(self, loaded):
        for machine in Machine.objects.all():
            asked = {one.kind for one in machine.requirements.all()}

            assert {"sheet", "check", "demonstration", "supervised_cut"} <= asked
            assert machine.questions.count() == 10
            assert machine.lapses_after_months == 12


class TestSignOffs:
    def test_every_standing_occurs(self, loaded):
        assert record("jonah", "table_saw").standing.state == "signed"
        assert record("samir", "table_saw").standing.state == "lapsed"
        assert record("ingrid", "mitre_saw").standing.state == "withdrawn"
        assert record("tomas", "mitre_saw").standing.state == "none"

    def test_nobody_is_signed_off_who_lacks_something(self, loaded):
        for row in SignOff.objects.filter(act=SignOff.Act.SIGNED):
            found = record(row.student.username, row.machine.kind)

            assert not found.lacking or found.standing.state == "withdrawn"

    def test_a_withdrawal_says_why(self, loaded):
        withdrawn = SignOff.objects.get(act=SignOff.Act.WITHDRAWN)

        assert withdrawn.student.username == "ingrid"
        assert "by hand" in withdrawn.note

    def test_two_are_half_way(self, loaded):
        lacking = {
            (name, kind): [one.kind for one in record(name, kind).lacking]
            for name, kind in (("tomas", "mitre_saw"), ("priya", "table_saw"))
        }

        todo = ["demonstration", "supervised_cut"]
        assert lacking == {("tomas", "mitre_saw"): todo, ("priya", "table_saw"): todo}

    def test_one_check_was_failed_and_then_passed(self, loaded):
        failed = CheckTaken.objects.get(passed=False)
        again = CheckTaken.objects.filter(
            machine=failed.machine, student=failed.student, pk__gt=failed.pk
        ).get()

        assert (failed.right, failed.student.username) == (6, "priya")
        assert again.passed
        assert again.at > failed.at

    def test_checks_say_what_their_answers_do(self, loaded):
        for taken in CheckTaken.objects.all():
            right = [one for one in taken.answers if one["given"] == one["right"]]

            assert (len(right), len(taken.answers)) == (taken.right, taken.asked)

    def test_a_student_records_reading_and_checks_alone(self, loaded):
        for row in RequirementRecord.objects.select_related("requirement"):
            own = row.requirement.kind in ("sheet", "check")

            assert (row.by_id == row.student_id) == own


class TestSteps:
    def test_as_many_are_done_as_are_meant(self, rows):
        done = {
            name.lower().replace("-", ""): row.done
            for name, row in rows.items()
            if row.seen_at is not None
        }

        assert done == DONE

    def test_what_is_done_is_done_in_order(self, loaded):
        for build in Build.objects.with_plan():
            done = progress.done_steps(build.marks.all())
            steps = adapters.steps_of(adapters.plan_of(build.revision))
            first = {step.key for step in steps[: len(done)]}

            assert done == first

    def test_students_are_at_every_stage_up_to_sanding(self, rows):
        stages = {row.stage for row in rows.values()}

        assert stages == {"mill", "joinery", "dry_fit", "fitted", "sanding"}

    def test_one_step_was_moved_back_and_done_again(self, loaded):
        rows = StepMark.objects.filter(build__student__username="yuki", step="crosscut")

        assert [row.done for row in rows] == [True, False, True]
        assert rows[1].by.username == "hanne"

    def test_nothing_is_said_to_happen_in_the_future(self, loaded):
        now = timezone.now()

        for model in (StepMark, SignOff, RequirementRecord, CheckTaken, NearMiss):
            assert not model.objects.filter(at__gt=now).exists(), model


class TestOverview:
    def test_who_is_held_up_by_what(self, rows):
        needs = {name: [need.kind for need in row.needs] for name, row in rows.items()}

        assert {name: kinds for name, kinds in needs.items() if kinds} == {
            "Adaeze": ["reading"],
            "Ingrid": ["sign_off"],
            "Kofi": ["hand"],
            "Leif": ["hand", "reading"],
            "Mei-Lin": ["doubt"],
            "Nadia": ["sign_off"],
            "Priya": ["sign_off"],
            "Rosa": ["reading"],
            "Samir": ["sign_off"],
            "Tomas": ["sign_off"],
            "Wenzel": ["sign_off"],
        }

    def test_a_sign_off_is_told_as_it_stands(self, rows):
        assert rows["Jonah"].working == "Sander, signed off"
        assert rows["Ingrid"].sign_off == "sign-off withdrawn"
        assert rows["Samir"].sign_off.startswith("sign-off lapsed after")
        assert rows["Priya"].working == "meanwhile: Band saw"
        assert rows["Tomas"].working == ""

    @pytest.mark.parametrize("show", list(SHOWS))
    def test_every_filter_shows_somebody(self, seen, show):
        roll, rows = seen

        assert shown(roll, rows, Asked(show=show)).groups

    def test_nobody_has_been_seen_who_has_not_joined(self, rows):
        unseen = {name for name, row in rows.items() if row.seen_at is None}

        assert unseen == {"Nadia", "Wenzel"}


class TestTerm:
    def test_the_meeting_is_on(self, shop_class):
        now = timezone.now()
        tonight = overview.next_meeting(shop_class, now=now)

        assert tonight is not None
        assert timedelta(minutes=44) < now - tonight.starts_at < timedelta(minutes=52)
        assert tonight.note

    def test_there_are_meetings_before_and_after(self, shop_class):
        starts = list(shop_class.meetings.values_list("starts_at", flat=True))
        days = {timezone.localtime(start).weekday() for start in starts}

        assert len(starts) == 12
        assert len(days) == 1
        assert shop_class.starts_on == timezone.localdate(starts[0])
        assert shop_class.ends_on == timezone.localdate(starts[-1])

    def test_a_near_miss_is_in_the_log(self, shop_class):
        entry = shop_class.near_misses.get()

        assert (entry.kind, entry.machine.kind) == ("near_miss", "table_saw")
