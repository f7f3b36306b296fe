"""Joining on a phone with a card and a PIN."""

import pytest
from axes.models import AccessAttempt
from django.core.cache import cache
from django.test import Client
from django.urls import reverse

from projects import actions, throttle_codes
from projects.models import User
from tests.factories import PASSWORD, InstructorFactory, UserFactory, enrol

CODE = "km7px3qe"
PIN = "2580"


@pytest.fixture(autouse=True)
def _fresh():
    cache.clear()
    yield
    cache.clear()


@pytest.fixture
def ann(shop_class):
    """A student who has not joined yet."""
    student = enrol(shop_class, name="Ann Other", username=CODE).student
    student.set_unusable_password()
    student.save()
    return student


@pytest.fixture
def joined(ann):
    """The same student, a PIN later."""
    actions.choose_pin(ann, PIN)
    ann.refresh_from_db()
    return ann


@pytest.fixture
def phone():
    return Client()


def at(code=CODE):
    return reverse("join-card", args=[code])


def choose(client, pin=PIN, again=None, code=CODE):
    sent = {"password": pin, "again": pin if again is None else again}
    return client.post(at(code), sent)


def text(response):
    return response.content.decode()


def signed_in_as(client):
    return client.session.get("_auth_user_id")


class TestTyping:
    @pytest.mark.parametrize("typed", [CODE, "KM7P-X3QE", " km7p x3qe "])
    def test_a_code_leads_to_its_card(self, typed, phone, ann):
        answered = phone.post(reverse("join"), {"code": typed})

        assert answered.headers["Location"] == at()

    @pytest.mark.parametrize(
        "typed", ["zzzzzzzz", "hanne", "x", "km7p-x3q0", "\0", "é"]
    )
    def test_a_wrong_one_is_told_at_the_field(self, typed, phone, ann):
        answered = phone.post(reverse("join"), {"code": typed})

        assert answered.status_code == 422
        assert 'aria-invalid="true"' in text(answered)

    def test_a_voided_one_is_told_the_same_as_an_unknown_one(self, phone, ann):
        actions.new_card(ann)
        pages = [
            text(phone.post(reverse("join"), {"code": code})).replace(code, "")
            for code in (CODE, "zzzzzzzz")
        ]
        voided, unknown = [
            page.partition("<form")[2].partition("<p>")[2] for page in pages
        ]

        assert "This code is not in use." in voided
        assert voided == unknown

    def test_no_code_is_asked_for_again(self, phone, db):
        answered = phone.post(reverse("join"), {"code": " "})

        assert answered.status_code == 422
        assert "Type the code on your card" in text(answered)


class TestCard:
    def test_it_greets_by_name_and_asks_for_a_new_pin(self, phone, ann):
        page = text(phone.get(at()))

        assert "Hello, Ann Other" in page
        assert page.count('type="password"') == 2
        assert page.count('inputmode="numeric"') == 2

    def test_with_a_pin_it_asks_for_that(self, phone, joined):
        page = text(phone.get(at()))

        assert page.count('type="password"') == 1
        assert "Type the PIN that you chose" in page

    @pytest.mark.parametrize("code", ["KM7PX3QE", "km7p-x3qe"])
    def test_the_code_may_be_spelled_as_printed(self, code, phone, ann):
        assert phone.get(at(code)).status_code == 200

    def test_no_cache_keeps_it(self, phone, ann):
        for url in (at(), reverse("join"), at("zzzzzzzz")):
            assert "no-store" in phone.get(url).headers["Cache-Control"]

    def test_looking_at_it_changes_nothing(self, phone, ann):
        before = User.objects.get(pk=ann.pk).password
        phone.get(at(), {"password": PIN, "again": PIN})
        phone.head(at())

        assert User.objects.get(pk=ann.pk).password == before
        assert signed_in_as(phone) is None

    def test_names_of_who_signs_in_by_name_are_not_told(self, phone, db):
        UserFactory.create(username="hanne", name="Secret Name")
        InstructorFactory.create(username="brackwen", name="Secret Name")
        UserFactory.create(username="zzzzzzzz", name="Secret Name", is_active=False)
        for code in ("hanne", "brackwen", "zzzzzzzz"):
            answered = phone.get(at(code))

            assert answered.status_code == 404
            assert "Secret Name" not in text(answered)

    def test_an_instructor_joins_by_no_card(self, phone, db):
        person = InstructorFactory.create(username="brackwen")
        answered = phone.post(at("brackwen"), {"password": PASSWORD})

        assert answered.status_code == 404
        assert signed_in_as(phone) is None
        person.refresh_from_db()
        assert person.check_password(PASSWORD)


class TestChoosing:
    def test_the_pin_is_kept_hashed_and_the_student_signed_in(self, phone, ann):
        answered = choose(phone)
        ann.refresh_from_db()

        assert answered.headers["Location"] == reverse("home")
        assert signed_in_as(phone) == str(ann.pk)
        assert ann.check_password(PIN)
        assert PIN not in ann.password

    @pytest.mark.parametrize(
        ("pin", "told"),
        [
            ("", "Type 4 to 8 digits."),
            ("258", "A PIN has 4 to 8 digits."),
            ("258025802", "A PIN has 4 to 8 digits."),
            ("25a0", "digits only"),
            ("\u0662\u0665\u0668\u0660", "digits only"),
            ("7777", "guessed first"),
            ("2345", "guessed first"),
            ("8765", "guessed first"),
        ],
    )
    def test_a_bad_one_is_told_and_not_kept(self, pin, told, phone, ann):
        answered = choose(phone, pin)
        ann.refresh_from_db()

        assert answered.status_code == 422
        assert told in text(answered)
        assert not ann.has_joined
        assert pin == "" or f'value="{pin}"' not in text(answered)

    def test_two_different_ones_are_told(self, phone, ann):
        answered = choose(phone, again="2581")

        assert answered.status_code == 422
        assert "The two PINs differ" in text(answered)

    def test_who_was_quicker_keeps_the_card(self, phone, ann, monkeypatch):
        monkeypatch.setattr(actions, "choose_pin", lambda *_args: False)
        answered = choose(phone)

        assert answered.status_code == 422
        assert "Somebody chose a PIN for this card just now" in text(answered)

    def test_a_second_choice_is_a_wrong_pin(self, phone, joined):
        answered = choose(phone, "1379")
        joined.refresh_from_db()

        assert answered.status_code == 422
        assert joined.check_password(PIN)

    def test_a_page_sent_twice_signs_in_once_more(self, phone, ann):
        choose(phone)
        second = Client()

        assert choose(second).status_code == 302
        assert signed_in_as(second) == str(ann.pk)

    def test_the_session_gets_a_new_key(self, phone, ann):
        phone.session.save()  # somebody planted one
        session = phone.session
        session["planted"] = "x"
        session.save()
        phone.cookies["sessionid"] = session.session_key
        planted = session.session_key
        choose(phone)

        assert phone.session.session_key != planted


class TestPin:
    def test_it_signs_in(self, phone, joined):
        answered = phone.post(at(), {"password": PIN})

        assert answered.headers["Location"] == reverse("home")
        assert signed_in_as(phone) == str(joined.pk)

    def test_the_sign_in_page_takes_code_and_pin_too(self, phone, joined):
        sent = {"username": " KM7P-X3QE", "password": PIN}

        assert phone.post(reverse("sign-in"), sent).status_code == 302
        assert signed_in_as(phone) == str(joined.pk)

    def test_a_wrong_one_is_told(self, phone, joined):
        answered = phone.post(at(), {"password": "1379"})

        assert answered.status_code == 422
        assert "not the PIN that goes with this card" in text(answered)
        assert "1379" not in text(answered)

    def test_guesses_are_counted_with_those_at_the_sign_in(self, phone, joined):
        for _ in range(4):
            phone.post(at(), {"password": "1379"})
            phone.post(
                reverse("sign-in"), {"username": "KM7P X3QE", "password": "1379"}
            )
        answered = phone.post(at(), {"password": PIN})

        assert answered.status_code == 429
        assert "Wait a little" in text(answered)
        assert signed_in_as(phone) is None

    def test_another_browser_is_no_new_start(self, joined):
        for n in range(8):
            other = Client(headers={"User-Agent": f"Phone {n}"})
            other.post(at(), {"password": "1379"})

        assert Client().post(at(), {"password": PIN}).status_code == 429

    def test_what_was_typed_is_kept_nowhere(self, phone, joined):
        phone.post(at(), {"password": "1379", "again": ""})

        assert "1379" not in AccessAttempt.objects.get().post_data

    def test_a_voided_card_signs_nobody_in(self, phone, joined):
        actions.new_card(joined)

        assert phone.post(at(), {"password": PIN}).status_code == 404
        sent = {"username": CODE, "password": PIN}
        assert phone.post(reverse("sign-in"), sent).status_code == 200
        assert signed_in_as(phone) is None


class TestSignedInAlready:
    def test_as_the_same_it_goes_on(self, client_of, joined):
        assert client_of(joined).get(at()).headers["Location"] == reverse("home")

    def test_as_somebody_else_it_says_so_and_leads_back(self, client_of, ann, student):
        client = client_of(student)
        page = text(client.get(at()))

        assert f"You are signed in here as {student.name}" in page
        assert 'type="password"' not in page
        answered = client.post(reverse("sign-out"), {"next": at()})
        assert answered.headers["Location"] == at()

    def test_a_pin_sent_then_is_not_kept(self, client_of, ann, student):
        client = client_of(student)
        answered = choose(client)
        ann.refresh_from_db()

        assert answered.status_code == 409
        assert not ann.has_joined
        assert signed_in_as(client) == str(student.pk)

    def test_the_page_for_codes_says_it_too(self, client_of, student):
        assert "Sign out first" in text(client_of(student).get(reverse("join")))


class TestGuessingCodes:
    def test_many_wrong_codes_stop_even_a_right_one_for_a_while(self, phone, ann):
        half = throttle_codes.MOST_WRONG // 2
        for _ in range(half):
            phone.post(reverse("join"), {"code": "zzzzzzzz"})
            phone.get(at("zzzzzzzz"))
        typed = phone.post(reverse("join"), {"code": CODE})
        opened = phone.get(at())

        assert (typed.status_code, opened.status_code) == (429, 429)
        for answered in (typed, opened):
            assert "Try again in ten minutes" in text(answered)
            assert "Ann Other" not in text(answered)

    def test_right_codes_are_not_counted(self, phone, ann):
        for _ in range(throttle_codes.MOST_WRONG + 1):
            phone.get(at())

        assert phone.get(at()).status_code == 200

    def test_it_takes_few_queries(self, phone, ann, django_assert_num_queries):
        with django_assert_num_queries(1):
            phone.get(at())
