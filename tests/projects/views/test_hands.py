"""Raising a hand for help, and taking it down."""

from html import unescape

import pytest
from django.urls import reverse

from projects.models import Hand
from tests.factories import help_in


@pytest.fixture
def url(build):
    return reverse("hand", args=[build.pk])


@pytest.fixture
def steps(build):
    return reverse("build-steps", args=[build.pk])


def newest(build):
    return build.hands.last()


class TestRaising:
    def test_a_button_says_what_for(self, as_student, build, url, steps):
        answered = as_student.post(url, {"raised": "1", "quick": "Check my setup"})

        assert answered["Location"] == steps
        assert (newest(build).raised, newest(build).note) == (True, "Check my setup")
        page = as_student.get(steps).content.decode()
        assert "Your hand is up" in page
        assert "Check my setup" in page

    def test_what_is_typed_stands_behind_the_button(self, as_student, build, url):
        as_student.post(url, {"raised": "1", "quick": "A sign-off", "note": "band saw"})

        assert newest(build).note == "A sign-off: band saw"

    def test_it_leads_back_to_the_step_it_was_raised_at(self, as_student, build, url):
        answered = as_student.post(url, {"raised": "1", "step": "rip"})

        assert answered["Location"] == reverse("build-step", args=[build.pk, "rip"])

    def test_htmx_is_given_the_control_alone(self, as_student, url):
        answered = as_student.post(
            url, {"raised": "1", "note": "Help"}, headers={"HX-Request": "true"}
        )

        assert answered.content.strip().startswith(b'<div id="hand"')
        assert "“Help”" in answered.content.decode()

    def test_twice_is_once_unless_it_says_more(self, as_student, build, url):
        for note in ("", "", "Help", "Help", ""):
            as_student.post(url, {"raised": "1", "note": note})

        assert [hand.note for hand in build.hands.all()] == ["", "Help"]

    @pytest.mark.parametrize("htmx", [{}, {"HX-Request": "true"}])
    def test_a_note_too_long_is_kept_in_its_field(self, as_student, build, url, htmx):
        data = {"raised": "1", "note": "x" * 201}
        answered = as_student.post(url, data, headers=htmx)
        page = unescape(answered.content.decode())

        assert answered.status_code == 422
        assert "At most 200 characters" in page
        assert "x" * 201 in page
        assert not Hand.objects.exists()

    def test_staff_do_not_raise_a_students_hand(self, as_instructor, url):
        assert as_instructor.post(url, {"raised": "1"}).status_code == 403
        assert not Hand.objects.exists()


class TestTakingDown:
    @pytest.fixture(autouse=True)
    def _up(self, as_student, url):
        as_student.post(url, {"raised": "1", "note": "Help"})

    def test_the_student_does(self, as_student, build, url, steps):
        as_student.post(url, {"raised": "0"})

        assert not newest(build).raised
        assert build.hands.count() == 2
        assert "Raise a hand" in as_student.get(steps).content.decode()

    def test_whoever_may_log_does(self, client_of, shop_class, build, url, steps):
        helper = help_in(shop_class, "may_log")
        client = client_of(helper)

        assert "A hand is up" in client.get(steps).content.decode()
        client.post(url, {"raised": "0"})
        assert newest(build).by == helper

    def test_an_assistant_without_that_right_sees_it_only(
        self, client_of, assistant, build, url, steps
    ):
        client = client_of(assistant)
        page = client.get(steps).content.decode()

        assert "A hand is up" in page
        assert "Take it down" not in page
        assert client.post(url, {"raised": "0"}).status_code == 403
        assert newest(build).raised

    def test_twice_is_once(self, as_student, build, url):
        for _ in range(2):
            as_student.post(url, {"raised": "0"})

        assert build.hands.count() == 2
