"""What somebody may try who sends other forms than the pages offer."""

import io
import zipfile

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.models import (
    CheckTaken,
    Meeting,
    Membership,
    NearMiss,
    Question,
    ShopClass,
    SignOff,
    User,
)
from tests.factories import MachineFactory, RevisionFactory, help_in, sign_off
from tests.signing import PIN, Kind, ask, with_pin

TOO_LONG = "9" * 5000  # Python refuses to read a number of so many digits
TOO_LARGE = "9" * 30  # no column holds it


@pytest.fixture
def saw(shop_class):
    return MachineFactory.create(shop=shop_class.shop)


@pytest.fixture
def their_saw(other_class):
    """A machine of somebody else's shop."""
    return MachineFactory.create(shop=other_class.shop)


@pytest.fixture
def signing(build, saw, instructor):
    """Where the instructor, who has a PIN, signs off at the saw."""
    with_pin(instructor)
    return reverse("sign-off", args=[build.pk, saw.pk])


class TestNumbersThatNoRowHas:
    @pytest.mark.parametrize("number", [TOO_LONG, TOO_LARGE, "", "-1", "x"])
    @pytest.mark.parametrize(
        ("name", "field"),
        [
            ("class-staff", "end"),
            ("class-staff", "rights"),
            ("class-meetings", "remove"),
            ("near-miss-list", "follows"),
        ],
    )
    def test_a_button_for_it_is_not_found(
        self, shop_class, as_instructor, name, field, number
    ):
        url = reverse(name, args=[shop_class.pk])

        assert as_instructor.post(url, {field: number}).status_code == 404

    @pytest.mark.parametrize("number", [TOO_LONG, TOO_LARGE])
    def test_nobody_is_put_on_a_roster_by_it(self, shop_class, as_instructor, number):
        url = reverse("class-roster", args=[shop_class.pk])

        assert as_instructor.post(url, {"person": number}).status_code == 422

    @pytest.mark.parametrize(
        "name", ["student-edit", "student-delete", "build-machine", "sign-off"]
    )
    def test_an_address_with_it_is_not_found(
        self, shop_class, build, as_instructor, name
    ):
        first = build.pk if name in ("build-machine", "sign-off") else shop_class.pk
        url = reverse(name, args=[first, int(TOO_LARGE)])

        assert as_instructor.get(url).status_code == 404


class TestYearsAtTheCalendarsEnds:
    @pytest.mark.parametrize("zone", ["America/Chicago", "Asia/Tokyo"])
    @pytest.mark.parametrize(
        "typed", ["0001-01-01T00:00", "9998-06-01T10:00", "9999-12-31T23:59"]
    )
    @pytest.mark.parametrize("prefix", ["one", "series"])
    def test_no_meeting_is_held_then(
        self, shop_class, as_instructor, settings, zone, typed, prefix
    ):
        settings.TIME_ZONE = zone
        given = {"starts_at": typed, "minutes": 60, "count": 5}
        fields = {f"{prefix}-{name}": value for name, value in given.items()}
        url = reverse("class-meetings", args=[shop_class.pk])

        answered = as_instructor.post(url, {prefix: "1", **fields})

        assert answered.status_code == 422
        assert not Meeting.objects.exists()

    @pytest.mark.parametrize("zone", ["America/Chicago", "Asia/Tokyo"])
    def test_nothing_happened_then(self, shop_class, as_instructor, settings, zone):
        # such an entry could not be shown, and no entry can be taken out again
        settings.TIME_ZONE = zone
        url = reverse("near-miss-list", args=[shop_class.pk])
        fields = {"kind": "near_miss", "happened_at": "0001-01-01T00:00", "what": "x"}

        assert as_instructor.post(url, fields).status_code == 422
        assert not NearMiss.objects.exists()


class TestSigning:
    def test_a_second_tap_renews_once(self, signing, build, saw, as_instructor):
        seen = sign_off(build.student, saw).pk
        (signer,) = User.objects.filter(pk=saw.shop.owner_id)
        fields = {"signer": signer.pk, "pin": PIN, "act": "renewed", "seen": seen}

        answered = [as_instructor.post(signing, fields) for _tap in range(2)]

        assert [one.status_code for one in answered] == [302, 422]
        assert b"has changed meanwhile" in answered[1].content
        assert SignOff.objects.filter(act="renewed").count() == 1

    def test_the_page_tells_what_was_looked_at(
        self, signing, build, saw, as_instructor
    ):
        assert b'name="seen" value="0"' in as_instructor.get(signing).content
        seen = f'name="seen" value="{sign_off(build.student, saw).pk}"'
        assert seen in as_instructor.get(signing).content.decode()

    def test_a_wrong_pin_leaves_no_note_with_the_throttle(
        self, signing, saw, instructor, as_instructor
    ):
        (demonstration,) = ask(saw, Kind.DEMONSTRATION)
        fields = {
            "signer": instructor.pk,
            "pin": "9052",
            f"met-{demonstration.pk}": "on",
            f"note-{demonstration.pk}": "hand in a splint",
        }

        for _try in range(3):
            assert as_instructor.post(signing, fields).status_code == 422

        (tried,) = AccessAttempt.objects.all()
        assert tried.failures_since_start == 3
        assert (tried.get_data, tried.post_data) == ("", "")

    def test_wrong_pins_count_on_the_page_for_signing_in_too(
        self, signing, instructor, as_instructor
    ):
        fields = {"signer": instructor.pk, "act": "signed"}
        for number in range(8):
            as_instructor.post(signing, {**fields, "pin": f"90{number}2"})

        assert as_instructor.post(signing, {**fields, "pin": PIN}).status_code == 429
        sign_in = {"username": instructor.username, "password": "x"}
        assert Client().post(reverse("sign-in"), sign_in).status_code == 429
        assert not SignOff.objects.exists()

    @pytest.mark.parametrize("who", ["other_instructor", "student", "assistant"])
    def test_nobody_signs_whom_the_class_gave_no_right(
        self, signing, as_instructor, request, who
    ):
        person = with_pin(request.getfixturevalue(who))
        fields = {"signer": person.pk, "pin": PIN, "act": "signed"}

        assert as_instructor.post(signing, fields).status_code == 422
        assert not SignOff.objects.exists()


class TestOtherShops:
    @pytest.mark.parametrize("name", ["sign-off", "machine-read", "written-check"])
    @pytest.mark.parametrize("who", ["instructor", "student"])
    def test_their_machine_is_none_of_a_build(
        self, build, their_saw, client_of, request, name, who
    ):
        client = client_of(request.getfixturevalue(who))
        url = reverse(name, args=[build.pk, their_saw.pk])

        assert client.post(url, {"act": "signed"}).status_code == 404

    @pytest.mark.parametrize("op", ["retire", "take-back", "reword"])
    def test_what_their_machine_asks_stays(self, saw, their_saw, as_instructor, op):
        (asked,) = ask(their_saw, Kind.OTHER)
        url = reverse("machine-requirements", args=[saw.pk])
        fields = {"op": op, "requirement": asked.pk, "title": "x"}

        assert as_instructor.post(url, fields).status_code == 404

    def test_their_questions_stay(self, saw, their_saw, as_instructor):
        question = Question.objects.create(
            machine=their_saw,
            text="?",
            choices=["a", "b"],
            right=0,
            why="a",
            source="a",
        )
        url = reverse("machine-questions", args=[saw.pk])

        for fields in (
            {"op": "retire", "question": question.pk},
            {"op": "keep", "change": question.pk},
        ):
            assert as_instructor.post(url, fields).status_code == 404

    def test_nothing_is_logged_at_their_machine(
        self, shop_class, their_saw, as_instructor
    ):
        url = reverse("near-miss-list", args=[shop_class.pk])
        fields = {
            "kind": "near_miss",
            "happened_at": "2026-01-05T10:00",
            "what": "x",
            "machine": their_saw.pk,
        }

        assert as_instructor.post(url, fields).status_code == 422


class TestWhatIsKeptFromSomebody:
    def test_a_classmates_check(self, build, saw, student, classmate, client_of):
        taken = CheckTaken.objects.create(
            machine=saw,
            student=classmate,
            answers=[],
            right=0,
            asked=1,
            pass_mark_pct=80,
            passed=False,
            at=timezone.now(),
        )
        url = reverse("written-check", args=[build.pk, saw.pk])

        answered = client_of(student).get(f"{url}?taken={taken.pk}")

        assert answered.status_code == 404

    def test_the_right_answer_until_all_are_given(self, build, saw, student, client_of):
        Question.objects.create(
            machine=saw,
            text="Which way?",
            choices=["This", "That"],
            right=1,
            why="because of the feed",
            source="the manual",
        )
        url = reverse("written-check", args=[build.pk, saw.pk])
        client = client_of(student)

        for answered in (client.get(url), client.post(url, {})):
            assert b"because of the feed" not in answered.content
            assert b"the manual" not in answered.content

    def test_the_code_and_card_of_who_may_sign(self, shop_class, client_of):
        (signer,) = actions.new_people(["Hale Worthing"])
        actions.add_staff(
            shop_class, signer, role=Membership.Role.ASSISTANT, rights=["may_sign"]
        )
        client = client_of(help_in(shop_class, "may_roster"))
        cards = reverse("class-cards", args=[shop_class.pk])

        renewed = client.post(reverse("card-renew", args=[shop_class.pk, signer.pk]))

        assert renewed.status_code == 403
        for query in ("?who=all", f"?student={signer.pk}&at=testserver"):
            page = client.get(cards + query).content.decode().lower()
            assert signer.username not in page
            assert f"{signer.username[:4]}-{signer.username[4:]}" not in page

    def test_what_a_shared_student_builds_where_they_built_first(
        self, shop_class, other_class, other_instructor, instructor, client_of
    ):
        """A new card would open both builds, so the first class keeps it."""
        (shared,) = actions.new_people(["Ann Sharer"])
        shared.save()
        actions.enrol(other_class, shared)
        actions.enrol(shop_class, shared)
        there = [other_class.pk, shared.pk], [shop_class.pk, shared.pk]
        first, second = (reverse("card-renew", args=args) for args in there)

        assert client_of(instructor).post(second).status_code == 403
        assert client_of(other_instructor).post(first).status_code == 302

    def test_what_signs_in_with_a_copy_of_a_class(
        self, shop_class, build, instructor, as_instructor
    ):
        with_pin(instructor)
        (joined,) = actions.new_people(["Zara Quill"])
        actions.add_students(shop_class, [joined])
        actions.choose_pin(joined, "8306")

        answered = as_instructor.get(reverse("class-export", args=[shop_class.pk]))

        packed = zipfile.ZipFile(io.BytesIO(answered.content))
        whole = b"".join(packed.read(name) for name in packed.namelist()).decode()
        for person in User.objects.all():
            for secret in filter(None, (person.username, person.password, person.pin)):
                assert secret not in whole


def test_no_build_of_an_archived_class_moves(shop_class, build, as_instructor):
    RevisionFactory.create(plan=shop_class.revision.plan, number=2)
    ShopClass.objects.filter(pk=shop_class.pk).update(archived_at=timezone.now())

    url = reverse("class-move", args=[shop_class.pk])

    assert as_instructor.post(url, {"build": build.pk}).status_code == 403
    build.refresh_from_db()
    assert build.revision.number == 1
