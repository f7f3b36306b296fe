"""Setting one's signing PIN."""

import pytest
from axes.models import AccessAttempt
from django.contrib.auth.hashers import check_password
from django.urls import reverse

from tests.factories import PASSWORD

URL = reverse("account-pin")


def send(client, pin="4071", **fields):
    given = {"pin": pin, "pin_again": pin, "password": PASSWORD, **fields}
    return client.post(URL, given)


def test_it_is_kept_as_a_hash(as_instructor, instructor):
    answered = send(as_instructor)
    instructor.refresh_from_db()

    assert answered.headers["Location"] == URL
    assert check_password("4071", instructor.pin)
    assert "Your PIN is set." in as_instructor.get(URL).content.decode()


def test_an_assistant_sets_one_too(client_of, assistant):
    assert send(client_of(assistant)).status_code == 302


def test_a_student_is_shown_out(as_student, student):
    assert as_student.get(URL).status_code == 403
    assert send(as_student).status_code == 403
    student.refresh_from_db()
    assert not student.pin


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"pin": "407"}, "4 to 8 digits"),
        ({"pin": "407123456"}, "4 to 8 digits"),
        ({"pin": "407a"}, "4 to 8 digits"),
        ({"pin": "٤٠٧١"}, "4 to 8 digits"),
        ({"pin": ""}, "4 to 8 digits"),
        ({"pin": "3333"}, "harder to guess"),
        ({"pin": "4567"}, "harder to guess"),
        ({"pin": "8765"}, "harder to guess"),
        ({"pin_again": "4072"}, "not the PIN above"),
        ({"password": "wrong"}, "not what you sign in with"),
    ],
)
def test_what_is_refused_is_told_at_its_field(fields, told, as_instructor, instructor):
    answered = send(as_instructor, **fields)
    instructor.refresh_from_db()

    assert answered.status_code == 422
    assert told in answered.content.decode()
    assert not instructor.pin


def test_the_pin_of_a_join_card_is_not_taken_again(as_instructor, instructor):
    instructor.set_password("90351")
    instructor.save()
    as_instructor.force_login(
        instructor, backend="django.contrib.auth.backends.ModelBackend"
    )
    answered = send(as_instructor, "90351", password="90351")

    assert "another one than you sign in with" in answered.content.decode()


def test_guessing_the_password_here_locks_too(as_instructor):
    codes = [send(as_instructor, password="wrong").status_code for _ in range(9)]

    assert codes[:7] == [422] * 7
    assert codes[-1] == 429


def test_what_was_typed_is_never_kept_or_sent_back(as_instructor):
    page = send(as_instructor, "90351", password="wrongdowel").content.decode()
    kept = AccessAttempt.objects.get().post_data

    for text in (page, kept):
        assert "90351" not in text
        assert "wrongdowel" not in text
