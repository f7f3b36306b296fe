"""Who is in a class, and what each of its staff may know about them."""

import pytest
from django.test import RequestFactory

from projects import actions
from projects.access import get_class_staffed
from projects.members import member, members_of, students_elsewhere
from projects.models import Membership
from tests.factories import InstructorFactory, ShopClassFactory, enrol, help_in

CODE = "km7px3qe"


def seen_by(viewer, shop_class):
    request = RequestFactory().get("/")
    request.user = viewer
    seen = get_class_staffed(request, shop_class.pk)
    return {one.person.name: one for one in members_of(seen, viewer)}


@pytest.fixture
def ann(shop_class):
    """A student who has not joined yet."""
    return enrol(shop_class, name="Ann", username=CODE).student


@pytest.fixture
def keeper(shop_class):
    """An assistant who keeps the roster."""
    return help_in(shop_class, "may_roster", name="Keeper", username="cdefghjk")


class TestCodes:
    def test_who_keeps_the_roster_sees_them(self, shop_class, instructor, keeper, ann):
        for viewer in (instructor, keeper):
            seen = seen_by(viewer, shop_class)["Ann"]

            assert (seen.code, seen.shown_code) == (CODE, "km7p-x3qe")
            assert seen.may_change

    def test_other_assistants_do_not(self, shop_class, assistant, ann):
        seen = seen_by(assistant, shop_class)["Ann"]

        assert seen.code == ""
        assert not seen.may_change

    def test_an_assistants_card_is_for_who_teaches(
        self, shop_class, instructor, keeper
    ):
        other = help_in(shop_class, "may_roster", name="Other")

        assert seen_by(instructor, shop_class)["Keeper"].code == "cdefghjk"
        assert seen_by(other, shop_class)["Keeper"].code == ""
        assert not seen_by(other, shop_class)["Keeper"].may_change

    def test_a_student_who_helps_elsewhere_is_kept_from_others(
        self, shop_class, instructor, other_class, ann
    ):
        Membership.objects.create(
            shop_class=other_class, user=ann, role=Membership.Role.ASSISTANT
        )
        seen = seen_by(instructor, shop_class)["Ann"]

        assert seen.code == ""
        assert not seen.may_change

    def test_one_who_helps_in_the_instructors_other_class_is_not(
        self, shop_class, instructor, ann
    ):
        second = ShopClassFactory.create(revision=shop_class.revision)
        Membership.objects.create(
            shop_class=second, user=ann, role=Membership.Role.ASSISTANT
        )

        assert seen_by(instructor, shop_class)["Ann"].code == CODE

    def test_an_instructor_in_the_class_as_student_is_kept_from_all(
        self, shop_class, instructor
    ):
        learner = InstructorFactory.create(name="Learner", username="mnpqrstu")
        actions.enrol(shop_class, learner)
        seen = seen_by(instructor, shop_class)["Learner"]

        assert seen.code == ""
        assert not seen.may_change

    def test_who_left_has_no_card_to_print(self, shop_class, instructor, ann):
        actions.leave_class(shop_class.memberships.get(user=ann))

        assert seen_by(instructor, shop_class)["Ann"].code == ""

    def test_who_signs_in_by_name_has_none(self, shop_class, instructor, student):
        seen = seen_by(instructor, shop_class)[student.name]

        assert seen.has_password
        assert (seen.code, seen.may_change) == ("", True)


class TestWho:
    def test_instructors_are_not_on_the_roster(self, shop_class, instructor, ann):
        assert list(seen_by(instructor, shop_class)) == ["Ann"]

    def test_one_of_another_class_is_nobody_here(
        self, shop_class, instructor, stranger
    ):
        request = RequestFactory().get("/")
        request.user = instructor
        seen = get_class_staffed(request, shop_class.pk)

        assert member(seen, instructor, stranger.pk) is None
        assert member(seen, instructor, instructor.pk) is None

    def test_it_takes_one_query(
        self, shop_class, instructor, ann, student, django_assert_num_queries
    ):
        request = RequestFactory().get("/")
        request.user = instructor
        seen = get_class_staffed(request, shop_class.pk)
        with django_assert_num_queries(1):
            found = members_of(seen, instructor)

        assert [one.person.name for one in found] == ["Ann", student.name]


class TestElsewhere:
    def test_only_students_of_ones_own_other_classes(
        self, shop_class, instructor, other_class, stranger, ann
    ):
        second = ShopClassFactory.create(revision=shop_class.revision)
        bo = enrol(second, name="Bo").student
        gone = enrol(second, name="Gone").student
        actions.leave_class(second.memberships.get(user=gone))
        actions.enrol(second, ann)

        assert list(students_elsewhere(shop_class, instructor)) == [bo]
        assert list(students_elsewhere(second, instructor)) == []

    def test_an_assistant_picks_from_where_they_keep_the_roster(self, shop_class, ann):
        second = ShopClassFactory.create(revision=shop_class.revision)
        helper = help_in(second, "may_roster")
        Membership.objects.create(
            shop_class=shop_class, user=helper, role=Membership.Role.ASSISTANT
        )

        assert list(students_elsewhere(second, helper)) == []
