"""Who teaches and who helps in a class."""

import pytest
from django.urls import reverse

from projects import actions
from projects.models import RIGHTS, Membership, User
from tests.factories import InstructorFactory, UserFactory, help_in


@pytest.fixture
def url(shop_class):
    return reverse("class-staff", args=[shop_class.pk])


def membership(shop_class, user):
    return shop_class.memberships.get(user=user)


class TestThePage:
    def test_it_says_in_words_what_each_may(self, url, as_instructor, shop_class):
        help_in(shop_class, "may_log", "may_roster", name="Ludo Varnell")
        page = as_instructor.get(url).content.decode()

        assert (
            "Assistant: may log readings and steps for students; "
            "may change the roster and print join cards" in page
        )
        assert "Instructor, may do everything" in page

    def test_an_assistants_join_card_is_one_tap_away(
        self, url, as_instructor, assistant, shop_class
    ):
        cards = reverse("class-cards", args=[shop_class.pk])
        page = as_instructor.get(url).content.decode()

        assert f'href="{cards}?student={assistant.pk}"' in page
        assert page.count(f"{cards}?student=") == 1  # not for the instructor

    def test_students_are_not_in_it(self, url, as_instructor, student):
        assert student.name not in as_instructor.get(url).content.decode()

    def test_it_takes_four_queries(
        self, url, as_instructor, shop_class, django_assert_num_queries
    ):
        for _n in range(5):
            help_in(shop_class)
        with django_assert_num_queries(4):  # session, user, class, staff
            as_instructor.get(url)


class TestAddingAnInstructor:
    def test_they_teach_from_now_on(
        self, url, as_instructor, colleague, shop_class, client_of
    ):
        given = {"known-username": f" {colleague.username.upper()} "}
        answered = as_instructor.post(url, given | {"known-role": "instructor"})

        assert answered.headers["Location"] == url
        assert membership(shop_class, colleague).role == "instructor"
        assert client_of(colleague).get(url).status_code == 200

    def test_an_instructor_may_help_too(
        self, url, as_instructor, colleague, shop_class
    ):
        given = {"known-username": colleague.username, "known-role": "assistant"}
        as_instructor.post(url, given | {"known-may_sign": "on"})
        found = membership(shop_class, colleague)

        assert found.role == "assistant"
        assert found.may("may_sign")
        assert not found.may("may_log")

    def test_who_was_there_before_comes_back(
        self, url, as_instructor, colleague, shop_class
    ):
        role = Membership.Role.INSTRUCTOR
        actions.end_part(actions.add_staff(shop_class, colleague, role=role))
        given = {"known-username": colleague.username, "known-role": "instructor"}
        as_instructor.post(url, given)

        assert membership(shop_class, colleague).left_at is None

    @pytest.mark.parametrize("who", ["student", "assistant", "stranger"])
    def test_only_instructors_are_found(
        self, who, url, as_instructor, request, shop_class
    ):
        person = request.getfixturevalue(who)
        given = {"known-username": person.username, "known-role": "instructor"}
        answered = as_instructor.post(url, given)
        unknown = as_instructor.post(url, given | {"known-username": "nobody"})

        assert answered.status_code == unknown.status_code == 422
        page = answered.content.decode()
        assert f"No instructor signs in as {person.username}." in page
        assert 'aria-describedby="id_known-username_error"' in page
        if who != "assistant":  # who is on the page anyway
            assert person.name not in page

    def test_nobody_is_added_twice(self, url, as_instructor, instructor):
        given = {"known-username": instructor.username, "known-role": "assistant"}
        answered = as_instructor.post(url, given)

        assert answered.status_code == 422
        assert "is in this class already: Instructor" in answered.content.decode()
        assert Membership.objects.get(user=instructor).role == "instructor"

    def test_who_learns_here_does_not_teach_here(
        self, url, as_instructor, colleague, shop_class
    ):
        actions.enrol(shop_class, colleague)
        given = {"known-username": colleague.username, "known-role": "instructor"}
        answered = as_instructor.post(url, given)

        assert answered.status_code == 422
        assert membership(shop_class, colleague).role == "student"


class TestAddingAnAssistant:
    def test_somebody_new_gets_a_card(self, url, as_instructor, shop_class):
        given = {"new": "1", "new-name": "  Ludo   Varnell ", "new-may_log": "on"}
        answered = as_instructor.post(url, given)
        person = User.objects.get(name="Ludo Varnell")

        assert answered.headers["Location"] == url
        assert not person.has_joined
        assert not person.is_instructor
        assert membership(shop_class, person).may("may_log")
        assert not membership(shop_class, person).may("may_sign")
        assert "Has not joined yet" in as_instructor.get(url).content.decode()

    @pytest.mark.parametrize("name", ["", "x" * 81, "a\x07b", "Perpetua  Lindqvale"])
    def test_a_name_that_will_not_do_is_refused(
        self, name, url, as_instructor, student, shop_class
    ):
        before = User.objects.count()
        answered = as_instructor.post(url, {"new": "1", "new-name": name})

        assert answered.status_code == 422
        assert 'id="id_new-name_error"' in answered.content.decode()
        assert User.objects.count() == before


class TestRights:
    def test_exactly_what_is_ticked_is_given(self, url, as_instructor, shop_class):
        helper = help_in(shop_class, "may_log")
        found = membership(shop_class, helper)
        as_instructor.post(url, {"rights": found.pk, "may_sign": "on"})
        found.refresh_from_db()

        assert [right for right in RIGHTS if found.may(right)] == ["may_sign"]

    def test_an_instructors_are_not_touched(
        self, url, as_instructor, instructor, shop_class
    ):
        found = membership(shop_class, instructor)
        as_instructor.post(url, {"rights": found.pk, "may_sign": "on"})
        found.refresh_from_db()

        assert not found.may_sign
        assert found.may("may_sign")

    def test_a_student_is_not_found(self, url, as_instructor, student, shop_class):
        found = membership(shop_class, student)
        answered = as_instructor.post(url, {"rights": found.pk, "may_sign": "on"})

        assert answered.status_code == 404


class TestEndingAPart:
    def test_an_assistant_sees_the_class_no_more(
        self, url, as_instructor, assistant, shop_class, client_of
    ):
        found = membership(shop_class, assistant)
        as_instructor.post(url, {"end": found.pk})
        found.refresh_from_db()

        assert found.left_at is not None
        meetings = reverse("class-meetings", args=[shop_class.pk])
        assert client_of(assistant).get(meetings).status_code == 404

    def test_the_last_instructor_stays(
        self, url, as_instructor, instructor, shop_class
    ):
        found = membership(shop_class, instructor)
        answered = as_instructor.post(url, {"end": found.pk})
        found.refresh_from_db()

        assert answered.status_code == 422
        assert "is the last instructor" in answered.content.decode()
        assert found.left_at is None

    def test_one_of_two_may_go(
        self, url, as_instructor, instructor, colleague, shop_class
    ):
        role = Membership.Role.INSTRUCTOR
        actions.add_staff(shop_class, colleague, role=role)
        found = membership(shop_class, instructor)
        answered = as_instructor.post(url, {"end": found.pk})

        assert answered.headers["Location"] == reverse("class-list")
        assert as_instructor.get(url).status_code == 404

    @pytest.mark.parametrize("op", ["end", "rights"])
    @pytest.mark.parametrize("number", ["", "x", "0"])
    def test_who_is_not_on_the_staff_is_not_found(self, op, number, url, as_instructor):
        assert as_instructor.post(url, {op: number}).status_code == 404

    def test_staff_of_another_class_are_not_found(
        self, url, as_instructor, other_class, other_instructor
    ):
        found = membership(other_class, other_instructor)

        assert as_instructor.post(url, {"end": found.pk}).status_code == 404


def test_an_instructor_who_may_not_sign_in_is_not_added(url, as_instructor):
    gone = InstructorFactory(is_active=False)
    given = {"known-username": gone.username, "known-role": "instructor"}

    assert as_instructor.post(url, given).status_code == 422


def test_a_student_is_never_made_staff_by_an_action(shop_class, student):
    role = Membership.Role.ASSISTANT
    with pytest.raises(actions.AlreadyInClassError):
        actions.add_staff(shop_class, student, role=role)
    assert actions.add_staff(shop_class, UserFactory.create(), role=role).role == role
