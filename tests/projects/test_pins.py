"""The PIN that staff sign with."""

import pytest
from django.contrib.auth import authenticate

from projects import pins
from tests.factories import PASSWORD, UserFactory, help_in
from tests.signing import PIN, with_pin


class TestGuessable:
    @pytest.mark.parametrize(
        "pin", ["0000", "77777777", "1234", "9876", "7890", "2109"]
    )
    def test_what_anybody_would_try(self, pin):
        assert pins.is_guessable(pin)

    @pytest.mark.parametrize("pin", ["4071", "1122", "1357", "12344321", "1235"])
    def test_what_not(self, pin):
        assert not pins.is_guessable(pin)


class TestBackend:
    @pytest.fixture
    def request_of(self, rf):
        return rf.post("/")

    def test_name_and_pin(self, request_of, instructor):
        with_pin(instructor)

        assert (
            authenticate(request_of, username=instructor.username, pin=PIN)
            == instructor
        )

    def test_a_wrong_pin_is_nobody(self, request_of, instructor):
        with_pin(instructor)

        assert not authenticate(request_of, username=instructor.username, pin="9035")

    @pytest.mark.parametrize("pin", ["", "4071"])
    def test_without_a_pin_set_none_fits(self, pin, request_of, instructor):
        assert not authenticate(request_of, username=instructor.username, pin=pin)

    def test_who_was_put_out_signs_no_more(self, request_of, instructor):
        with_pin(instructor)
        instructor.is_active = False
        instructor.save()

        assert not authenticate(request_of, username=instructor.username, pin=PIN)

    def test_a_pin_is_no_password(self, request_of, instructor):
        with_pin(instructor)
        name = instructor.username

        assert not authenticate(request_of, username=name, password=PIN)
        assert not authenticate(request_of, username=name, pin=PASSWORD)

    def test_it_holds_no_session(self, instructor):
        assert pins.PinBackend().get_user(instructor.pk) is None


class TestWhoHasOne:
    def test_staff_and_who_publishes_plans(self, instructor, colleague, shop_class):
        assert pins.can_have_one(instructor)
        assert pins.can_have_one(colleague)
        assert pins.can_have_one(help_in(shop_class))

    def test_no_student(self, student, db):
        assert not pins.can_have_one(student)
        assert not pins.can_have_one(UserFactory.create())
