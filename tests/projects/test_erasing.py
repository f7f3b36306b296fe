"""Erasing a class or a student: all of it goes, and nothing of anybody else."""

import json
from typing import Any

import pytest
from axes.models import AccessAttempt
from django.apps import apps
from django.contrib.sessions.models import Session
from django.core import serializers
from django.db import models

from projects import actions, erasing
from projects.models import (
    Membership,
    NearMiss,
    Plan,
    ShopClass,
    SignOff,
    User,
)
from projects.models.append_only import AppendOnlyModel
from tests.factories import (
    ShopClassFactory,
    enrol,
    help_in,
    log_stock,
    sign_off,
)
from tests.projects.filled import fill, machine_of, record

KEPT_FOR_ALL = {"DraftChange", "Acceptance", "Revision", "PlanPicture", "Outage"}
"""Append-only rows about plans and machines: nobody's in a class."""


def every_row():
    """Return each row of every table of the app, as text, by model and number."""
    found = {}
    for model in apps.get_models():
        if model._meta.app_label in {"auth", "contenttypes"}:
            continue
        rows: models.QuerySet[Any] = models.QuerySet(model)
        for row in rows:
            (text,) = json.loads(serializers.serialize("json", [row]))
            found[model.__name__, row.pk] = text["fields"]
    return found


def rows_about(person):
    """Return the rows that name somebody, by a relation or in words."""
    relations = {
        (model.__name__, field.name)
        for model in apps.get_models()
        for field in model._meta.get_fields()
        if field.is_relation and field.concrete and field.related_model is User
    }
    return [
        key
        for key, fields in every_row().items()
        if key == ("User", person.pk)
        or any(
            value == person.pk and (key[0], name) in relations
            for name, value in fields.items()
        )
        or any(words in json.dumps(fields) for words in (person.name, person.username))
    ]


@pytest.fixture
def filled(build, instructor, assistant):
    """The student's build, with a row in every table."""
    fill(build, instructor)
    return build


@pytest.fixture
def neighbour(other_class, other_instructor):
    """A build of another class of another shop, filled too."""
    build = enrol(other_class, name="Evander Quist")
    fill(build, other_instructor)
    return build


@pytest.fixture
def second_class(shop_class):
    """Another class in the same shop."""
    return ShopClassFactory(
        title="Second", revision=shop_class.revision, shop=shop_class.shop
    )


def test_the_filled_class_has_a_row_in_every_append_only_table(filled):
    missing = {
        model.__name__
        for model in apps.get_models()
        if issubclass(model, AppendOnlyModel) and not models.QuerySet(model).exists()
    }

    assert missing <= KEPT_FOR_ALL


class TestEraseClass:
    def test_nothing_about_its_people_stays(
        self, shop_class, filled, student, assistant, client_of
    ):
        client_of(student)
        AccessAttempt.objects.create(
            username=student.username, ip_address="192.0.2.7", failures_since_start=2
        )
        erasing.erase_class(shop_class)

        assert rows_about(student) == []
        assert rows_about(assistant) == []

    def test_the_session_of_a_student_ends(self, shop_class, student, client_of):
        browser, other = client_of(student), client_of(shop_class.shop.owner)
        erasing.erase_class(shop_class)

        assert (
            browser.get("/", follow=True).redirect_chain[-1][0].startswith("/sign-in")
        )
        assert Session.objects.count() == 1
        assert other.get("/classes/").status_code == 200

    def test_nothing_hangs_on_it_any_more(self, shop_class, filled):
        erasing.erase_class(shop_class)
        left = {name for name, _ in every_row()}

        assert left <= {
            "User", "Plan", "Revision", "Shop", "Machine", "Requirement", "Session",
        }  # fmt: skip

    def test_other_classes_are_untouched(self, shop_class, neighbour, filled):
        theirs = rows_about(neighbour.student) + rows_about(
            neighbour.shop_class.shop.owner
        )
        before = every_row()
        erasing.erase_class(shop_class)
        after = every_row()

        assert len(theirs) > 20
        assert {key: after.get(key) for key in theirs} == {
            key: before[key] for key in theirs
        }
        assert all(before[key] == fields for key, fields in after.items())

    def test_plans_the_shop_and_the_instructor_stay(
        self, shop_class, filled, instructor
    ):
        erasing.erase_class(shop_class)

        assert Plan.objects.get().owner == instructor
        assert instructor.shop.machines.count() == 1

    def test_who_is_in_another_class_of_the_shop_keeps_their_sign_offs(
        self, shop_class, filled, student, second_class
    ):
        actions.enrol(second_class, student)
        erasing.erase_class(shop_class)

        assert student.sign_offs.count() == 1
        assert student.builds.get().shop_class == second_class

    def test_who_is_in_a_class_of_another_shop_loses_those_of_this_shop(
        self, shop_class, filled, student, other_class, other_instructor
    ):
        actions.enrol(other_class, student)
        record(student, machine_of(other_class), other_instructor)
        erasing.erase_class(shop_class)

        assert [row.machine.shop for row in student.sign_offs.all()] == [
            other_class.shop
        ]
        assert student.checks_taken.get().machine.shop == other_class.shop

    def test_who_left_another_class_still_has_a_record_there(
        self, shop_class, student, second_class
    ):
        actions.enrol(second_class, student)
        Membership.objects.filter(shop_class=second_class, user=student).update(
            left_at="2026-01-01T00:00Z"
        )
        erasing.erase_class(shop_class)

        assert User.objects.filter(pk=student.pk).exists()

    def test_an_assistant_named_in_others_records_stays_by_name_alone(
        self, shop_class, second_class, classmate
    ):
        signer = help_in(shop_class, "may_sign", name="Ludo Varnell", pin="a hash")
        old_code = signer.username
        actions.enrol(second_class, classmate)
        sign_off(classmate, machine_of(shop_class), by=signer)
        erasing.erase_class(shop_class)
        signer.refresh_from_db()

        assert SignOff.objects.get().by == signer
        assert signer.name == "Ludo Varnell"
        assert signer.username != old_code
        assert not signer.has_joined
        assert signer.pin == ""

    def test_an_instructor_who_learns_there_keeps_their_account(
        self, shop_class, colleague
    ):
        actions.enrol(shop_class, colleague)
        sign_off(colleague, machine_of(shop_class))
        erasing.erase_class(shop_class)

        assert User.objects.filter(pk=colleague.pk).exists()
        assert not SignOff.objects.exists()

    def test_additions_to_additions_go_too(self, shop_class, instructor):
        last = None
        for _n in range(3):
            last = NearMiss.objects.create(
                shop_class=shop_class,
                follows=last,
                kind="damage",
                happened_at="2026-01-01T00:00Z",
                what="x",
                done="",
                at="2026-01-01T00:00Z",
                by=instructor,
            )
        erasing.erase_class(shop_class)

        assert not ShopClass.objects.exists()

    def test_all_or_nothing(self, shop_class, filled, monkeypatch):
        before = every_row()

        def fail(_people):
            raise RuntimeError

        monkeypatch.setattr(erasing, "_erase_people", fail)
        with pytest.raises(RuntimeError):
            erasing.erase_class(shop_class)

        assert every_row() == before


class TestEraseStudent:
    @pytest.fixture
    def membership(self, shop_class, student):
        return shop_class.memberships.get(user=student)

    def test_nothing_about_them_stays(self, membership, filled, student):
        erasing.erase_student(membership)

        assert rows_about(student) == []

    def test_everybody_else_is_untouched(
        self, membership, filled, classmate, instructor, neighbour
    ):
        log_stock(classmate.builds.get())
        record(classmate, machine_of(membership.shop_class), instructor)
        theirs = rows_about(classmate) + rows_about(neighbour.student)
        before = every_row()
        erasing.erase_student(membership)
        after = every_row()

        assert {key: after.get(key) for key in theirs} == {
            key: before[key] for key in theirs
        }
        assert all(before[key] == fields for key, fields in after.items())

    def test_in_another_class_of_the_shop_they_keep_their_sign_offs(
        self, membership, filled, student, second_class
    ):
        kept = actions.enrol(second_class, student)
        erasing.erase_student(membership)

        assert student.builds.get() == kept
        assert student.sign_offs.count() == 1
        assert not membership.shop_class.memberships.filter(user=student).exists()


class TestStake:
    def test_it_counts_what_goes(self, shop_class, filled, classmate):
        stake = erasing.stake_of_class(shop_class)

        assert (stake.people, stake.staying, stake.signed_here) == (3, 0, 0)
        assert (stake.readings, stake.steps, stake.hands) == (6, 1, 1)
        assert (stake.sign_offs, stake.checks) == (1, 1)
        assert (stake.near_misses, stake.meetings) == (2, 1)

    def test_it_counts_who_stays(self, shop_class, filled, student, second_class):
        actions.enrol(second_class, student)
        stake = erasing.stake_of_student(shop_class.memberships.get(user=student))

        assert (stake.people, stake.staying, stake.signed_here) == (1, 1, 1)
        assert (stake.readings, stake.sign_offs) == (6, 0)
