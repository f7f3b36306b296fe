"""Signing in and out, and where each goes from there."""

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from projects import actions
from tests.factories import PASSWORD, ShopClassFactory, UserFactory

SIGN_IN = "/sign-in/"


def sign_in(client, username, password=PASSWORD, **more):
    data = {"username": username, "password": password, **more}
    return client.post(SIGN_IN, data)


@pytest.fixture
def nobody():
    return Client()


class TestSignIn:
    def test_a_student_goes_on_to_the_start(self, nobody, student):
        answered = sign_in(nobody, student.username)

        assert answered.headers["Location"] == reverse("home")
        assert nobody.session["_auth_user_id"] == str(student.pk)

    @pytest.mark.parametrize("spell", [str.upper, str.capitalize, " {} ".format])
    def test_a_name_may_be_capitalised_and_spaced(self, spell, nobody, student):
        assert sign_in(nobody, spell(student.username)).status_code == 302

    def test_a_wrong_password_is_told_and_the_name_kept(self, nobody, student):
        page = sign_in(nobody, student.username, "wrong").content.decode()

        assert "These don't fit together" in page
        assert f'value="{student.username}"' in page
        assert "wrong" not in page

    def test_an_unknown_name_is_told_the_same(self, nobody, student):
        known = sign_in(nobody, student.username, "wrong").content.decode()
        unknown = sign_in(nobody, "nemo", "wrong").content.decode()

        assert "These don't fit together" in unknown
        assert len(known) - len(student.username) == len(unknown) - len("nemo")

    def test_a_name_that_looks_like_a_code_is_a_name(self, nobody, db):
        person = UserFactory.create(username="zara-beth")

        assert sign_in(nobody, "Zara-Beth").status_code == 302
        assert nobody.session["_auth_user_id"] == str(person.pk)

    @pytest.mark.parametrize("typed", ["km7px3qe", "KM7P-X3QE", " km7p x3qe "])
    def test_a_cards_code_is_read_however_it_was_typed(self, typed, nobody, db):
        person = UserFactory.create(username="km7px3qe")

        assert sign_in(nobody, typed).status_code == 302
        assert nobody.session["_auth_user_id"] == str(person.pk)

    def test_a_card_without_a_pin_signs_nobody_in(self, nobody, db):
        person = UserFactory.create(username="km7px3qe")
        person.set_unusable_password()
        person.save()

        for password in ("", person.password, "None"):
            assert sign_in(nobody, "km7px3qe", password).status_code == 200

    def test_it_leads_to_joining(self, nobody, db):
        assert reverse("join") in nobody.get(SIGN_IN).content.decode()

    def test_somebody_put_out_stays_out(self, nobody, student):
        student.is_active = False
        student.save()

        assert sign_in(nobody, student.username).status_code == 200

    def test_it_goes_where_somebody_wanted_to(self, nobody, build, student):
        wanted = reverse("readings", args=[build.pk])
        sent = nobody.get(wanted).headers["Location"]

        assert sent == f"{SIGN_IN}?next={wanted}"
        answered = sign_in(nobody, student.username, next=wanted)
        assert answered.headers["Location"] == wanted

    @pytest.mark.parametrize(
        "elsewhere",
        [
            "https://elsewhere.invalid/",
            "//elsewhere.invalid/",
            "/\\elsewhere.invalid/",
            "javascript:alert(1)",
            "http:///elsewhere.invalid",
        ],
    )
    def test_it_never_goes_to_another_site(self, elsewhere, nobody, student):
        answered = sign_in(nobody, student.username, next=elsewhere)

        assert answered.headers["Location"] == reverse("home")

    def test_the_session_gets_a_new_key(self, nobody, student):
        sign_in(nobody, student.username)
        first = nobody.session.session_key
        nobody.post(reverse("sign-out"))
        sign_in(nobody, student.username)

        assert nobody.session.session_key != first


class TestLockOut:
    def locked(self, client, names):
        return [sign_in(client, name, "wrong").status_code for name in names]

    def test_too_many_tries_get_a_page_of_their_own(self, nobody, student):
        codes = self.locked(nobody, [student.username] * 8)
        last = sign_in(nobody, student.username)

        assert codes[:7] == [200] * 7
        assert last.status_code == 429
        assert "Wait a little" in last.content.decode()
        assert last.headers["Content-Security-Policy"]
        assert "_auth_user_id" not in nobody.session

    def test_capitals_and_spaces_make_no_new_name(self, nobody, student):
        name = student.username
        spellings = [name[:n].upper() + name[n:] for n in range(len(name))]
        codes = self.locked(nobody, [*spellings[:6], f" {name}", f"{name} "])

        assert codes[-1] == 429
        assert sign_in(nobody, name).status_code == 429

    def test_the_rest_of_the_class_still_signs_in(self, nobody, student, classmate):
        self.locked(nobody, [student.username] * 8)

        assert sign_in(nobody, classmate.username).status_code == 302

    def test_ten_minutes_later_it_opens(self, nobody, student):
        self.locked(nobody, [student.username] * 8)
        then = timezone.now() - timedelta(minutes=10, seconds=1)
        AccessAttempt.objects.update(attempt_time=then)

        assert sign_in(nobody, student.username).status_code == 302

    def test_a_good_sign_in_forgets_the_tries_before(self, nobody, student):
        self.locked(nobody, [student.username] * 6)
        sign_in(nobody, student.username)
        nobody.post(reverse("sign-out"))

        assert self.locked(nobody, [student.username] * 3) == [200] * 3


class TestSignOut:
    def test_pages_ask_to_sign_in_again(self, as_student, build):
        as_student.post(reverse("sign-out"))
        url = reverse("build-detail", args=[build.pk])

        assert as_student.get(url).headers["Location"] == f"{SIGN_IN}?next={url}"


class TestHome:
    def test_an_instructor_comes_to_the_classes(self, as_instructor):
        assert as_instructor.get("/").headers["Location"] == reverse("class-list")

    def test_an_assistant_does_too(self, client_of, assistant):
        there = client_of(assistant).get("/").headers["Location"]

        assert there == reverse("class-list")

    def test_a_student_with_one_build_comes_to_its_steps(self, as_student, build):
        there = reverse("build-steps", args=[build.pk])

        assert as_student.get("/").headers["Location"] == there

    def test_a_student_with_two_builds_chooses(self, as_student, student):
        second = ShopClassFactory.create(title="Monday mornings")
        actions.enrol(second, student)
        page = as_student.get("/").content.decode()

        assert "Thursday evenings" in page
        assert "Monday mornings" in page

    def test_a_class_that_was_left_is_no_choice(
        self, as_student, student, shop_class, build
    ):
        second = ShopClassFactory.create(title="Monday mornings")
        kept = actions.enrol(second, student)
        actions.leave_class(shop_class.memberships.get(user=student))

        there = reverse("build-steps", args=[kept.pk])
        assert as_student.get("/").headers["Location"] == there

    def test_a_student_without_a_class_is_told(self, client_of, db):
        page = client_of(UserFactory()).get("/").content.decode()

        assert "You are in no class yet" in page
