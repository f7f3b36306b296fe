"""What people do: each verb checks, then writes."""

from fractions import Fraction
from types import SimpleNamespace

import pytest

from projects import actions, adapters
from projects.engine.errors import EngineError
from projects.engine.units import read_length
from projects.models import Build, Membership, Plan, Revision, User
from projects.roster import is_code
from tests.factories import (
    POPLAR,
    SHELF_CUT,
    UserFactory,
    as_bytes,
    log,
    plan_bytes,
    plan_data,
)

IN = Fraction(254, 10)


def log_one(build, typed, **more):
    rows = list(build.readings.all())
    fields = {
        "target": POPLAR,
        "point": 1,
        "instrument": "caliper",
        "by": build.student,
    }
    length = read_length(typed, unit="in")
    solution = actions.log_reading(
        build, rows, **{**fields, "length": length, "typed": typed, **more}
    )
    return rows, solution


class TestLogReading:
    def test_it_returns_the_build_solved_with_it(self, build):
        rows, solution = log_one(build, "0.742")

        assert solution.sizes["seat", "thickness"] == Fraction("0.742") * IN
        assert [row.pk for row in rows] == [build.readings.get().pk]

    def test_a_second_look_writes_nothing(self, build):
        with pytest.raises(actions.SecondLookError) as asked:
            log_one(build, "0.9")

        assert [look.why for look in asked.value.looks] == ["off_plan"]
        assert not build.readings.exists()

    def test_both_reasons_are_given(self, build):
        log(build, POPLAR, "0.742")
        with pytest.raises(actions.SecondLookError) as asked:
            log_one(build, "0.9", point=2)

        assert [look.why for look in asked.value.looks] == ["off_plan", "spread"]

    def test_the_impossible_is_not_kept_even_when_meant(self, build):
        with pytest.raises(EngineError, match="must be above 0"):
            log_one(build, "20", keep=True)

        assert not build.readings.exists()

    def test_a_misread_fact_does_not_speak_against_the_right_one(self, build):
        log(build, SHELF_CUT, "25 1/4", instrument="tape")
        _, solution = log_one(build, "35 1/4", target=SHELF_CUT, instrument="tape")

        assert solution.sizes["shelf", "length"] == Fraction("35.25") * IN


class TestSetAside:
    def test_it_is_a_row_of_its_own(self, build, instructor):
        rows = log(build, POPLAR, "0.742")
        actions.set_aside(build, rows, by=instructor, target=POPLAR, point=1)
        first, second = build.readings.all()

        assert (first.mm, second.mm) == (Fraction("0.742") * IN, None)
        assert second.by == instructor
        assert not adapters.current_rows([first, second])


class TestPublishPlan:
    def test_a_new_plan_starts_at_revision_1(self, instructor):
        revision = actions.publish_plan(instructor, plan_bytes("tool_tray"))

        assert (revision.number, revision.plan.title) == (1, "Tool tray")
        assert revision.plan.owner == instructor
        assert revision.document.encode() == plan_bytes("tool_tray")

    def test_the_next_revision_takes_the_next_number_and_the_title(self, build):
        data = plan_data() | {"title": "Boot bench, narrow"}
        plan = build.revision.plan
        revision = actions.publish_plan(plan.owner, as_bytes(data), plan=plan)
        plan.refresh_from_db()

        assert (revision.number, plan.title) == (2, "Boot bench, narrow")
        assert Build.objects.get(pk=build.pk).revision.number == 1

    def test_a_broken_one_writes_nothing(self, build):
        data = plan_data()
        data["joints"][0]["kind"] = "glue"
        plan = build.revision.plan
        with pytest.raises(EngineError, match=r"joints\[0\]\.kind"):
            actions.publish_plan(plan.owner, as_bytes(data), plan=plan)

        assert (Plan.objects.count(), Revision.objects.count()) == (1, 1)


class TestOpenClass:
    def test_everybody_gets_a_build_of_the_revision(self, build, instructor):
        students = UserFactory.create_batch(3)
        made = actions.open_class(
            instructor, title="Mondays", revision=build.revision, students=students
        )

        assert {one.student for one in made.builds.all()} == set(students)
        assert {one.revision for one in made.builds.all()} == {build.revision}
        roles = list(made.memberships.values_list("role", flat=True))
        assert sorted(roles) == ["instructor", "student", "student", "student"]
        assert made.memberships.get(role=Membership.Role.INSTRUCTOR).user == instructor


class TestNewPeople:
    def test_each_gets_a_code_and_no_pin(self, build, instructor):
        made = actions.new_people(["Ann", "Ann", "Zoë"])

        assert all(student.pk is None for student in made)
        actions.open_class(
            instructor, title="Mondays", revision=build.revision, students=made
        )
        kept = User.objects.filter(pk__in=[student.pk for student in made])
        assert [one.name for one in kept.order_by("pk")] == ["Ann", "Ann", "Zoë"]
        assert len({one.username for one in kept}) == 3
        assert all(is_code(one.username) for one in kept)
        assert not any(one.has_joined or one.is_instructor for one in kept)

    def test_a_code_taken_long_ago_stays_theirs(self, db, monkeypatch):
        UserFactory.create(username="aaaaaaaa")
        drawn = iter("aaaaaaaabbbbbbbb")
        fixed = SimpleNamespace(choice=lambda _letters: next(drawn))
        monkeypatch.setattr("projects.roster.secrets", fixed)

        assert [one.username for one in actions.new_people(["Ann"])] == ["bbbbbbbb"]


class TestNewCard:
    def test_the_old_code_and_pin_stop_working(self, student):
        old = student.username
        actions.new_card(student)
        student.refresh_from_db()

        assert is_code(student.username)
        assert student.username != old
        assert not student.has_joined
