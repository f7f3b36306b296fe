"""Putting students on a roster and off it, and choosing a PIN."""

import pytest
from django.contrib.auth.hashers import is_password_usable
from django.db import IntegrityError

from projects import actions
from projects.models import Build, User
from tests.factories import POPLAR, enrol, log


@pytest.fixture
def ann(shop_class):
    """A student who has not joined yet."""
    (made,) = actions.new_people(["Ann"])
    actions.add_students(shop_class, [made])
    return made


class TestAddStudents:
    def test_new_and_known_people_get_a_build_of_the_classs_revision(
        self, shop_class, stranger
    ):
        (new,) = actions.new_people(["Ann"])
        card = stranger.username, stranger.password
        actions.add_students(shop_class, [new, stranger])
        stranger.refresh_from_db()

        builds = Build.objects.filter(shop_class=shop_class)
        assert {build.student for build in builds} == {new, stranger}
        assert {build.revision for build in builds} == {shop_class.revision}
        assert (stranger.username, stranger.password) == card

    def test_all_or_none(self, shop_class, student):
        before = User.objects.count()
        with pytest.raises(IntegrityError):
            actions.add_students(shop_class, [*actions.new_people(["Ann"]), student])

        assert User.objects.count() == before


class TestLeaving:
    def test_what_was_measured_stays_and_comes_back(self, shop_class, build):
        log(build, POPLAR, "0.742")
        membership = shop_class.memberships.get(user=build.student)
        actions.leave_class(membership)

        assert not Build.objects.open_to(build.student).exists()
        assert build.readings.count() == 1
        actions.return_to_class(membership)
        assert list(Build.objects.open_to(build.student)) == [build]


class TestChoosePin:
    def test_it_becomes_the_password(self, ann):
        assert actions.choose_pin(ann, "2580")
        ann.refresh_from_db()

        assert ann.has_joined
        assert ann.check_password("2580")

    def test_the_second_of_two_phones_is_too_late(self, ann):
        same = User.objects.get(pk=ann.pk)
        actions.choose_pin(ann, "2580")

        assert not actions.choose_pin(same, "1379")
        same.refresh_from_db()
        assert same.check_password("2580")

    def test_a_card_voided_meanwhile_joins_nobody(self, ann):
        as_seen = User.objects.get(pk=ann.pk)
        actions.new_card(ann)

        assert not actions.choose_pin(as_seen, "2580")
        ann.refresh_from_db()
        assert not is_password_usable(ann.password)


def test_a_new_name_is_the_same_in_every_class(ann):
    actions.rename(ann, "Anna")

    assert User.objects.get(pk=ann.pk).name == "Anna"


def test_a_pin_is_hashed_outside_the_transaction(shop_class, django_assert_num_queries):
    person = enrol(shop_class, username="km7px3qe").student
    with django_assert_num_queries(1):  # one update, and nothing held around it
        actions.choose_pin(person, "2580")
