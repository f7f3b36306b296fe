"""A shop's machines as one student stands with them."""

from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from projects.models import RequirementRecord, SignOff
from tests.factories import MachineFactory, help_in, sign_off
from tests.signing import Kind, ask, record

FAR = date(2999, 3, 3)


@pytest.fixture
def saw(shop_class):
    return MachineFactory.create(
        shop=shop_class.shop,
        cautions="The fence sticks: lock it twice.\n\nNo dado set here.",
        limits={"kerf": "1/8", "blade_diameter": "10"},
    )


@pytest.fixture
def url(build):
    return reverse("build-machines", args=[build.pk])


@pytest.fixture
def at_saw(build, saw):
    return reverse("build-machine", args=[build.pk, saw.pk])


@pytest.fixture
def read(build, saw):
    return reverse("machine-read", args=[build.pk, saw.pk])


def page_of(client, url):
    return " ".join(client.get(url).content.decode().split())


class TestTheList:
    def test_states_in_words(self, url, as_student, build, saw, shop_class):
        student, shop = build.student, shop_class.shop
        of = {
            kind: MachineFactory.create(shop=shop, kind=kind)
            for kind in ("planer", "jointer", "band_saw")
        }
        sign_off(student, of["planer"], lapses_on=FAR)
        sign_off(student, of["jointer"], lapses_on=date(2020, 5, 1))
        sign_off(student, of["band_saw"])
        sign_off(
            student, of["band_saw"], act=SignOff.Act.WITHDRAWN, note="no push stick"
        )
        page = page_of(as_student, url)

        assert "signed off until 3 Mar 2999" in page
        assert "lapsed on 1 May 2020" in page
        assert "withdrawn on " in page
        assert ": no push stick" in page
        assert "not signed off" in page

    def test_what_is_still_asked(self, url, as_student, build, saw):
        seen, _cut = ask(saw, Kind.DEMONSTRATION, Kind.SUPERVISED_CUT)
        record(build.student, seen)
        page = page_of(as_student, url)

        assert "Still asked: Make a supervised cut<" in page

    def test_retired_machines_are_left_out(self, url, as_student, saw):
        saw.retired_at = timezone.now()
        saw.save()

        assert "No machine is listed" in page_of(as_student, url)

    def test_as_many_queries_for_any_shop(
        self, url, as_student, build, saw, django_assert_num_queries
    ):
        for kind in ("planer", "jointer", "band_saw"):
            machine = MachineFactory.create(shop=saw.shop, kind=kind)
            sign_off(build.student, machine)
            record(build.student, *ask(machine, Kind.AGE))
        # session, user, build, machines; requirements, records, sign-offs
        with django_assert_num_queries(7):
            as_student.get(url)


class TestTheMachine:
    def test_its_sheet(self, at_saw, as_student):
        page = page_of(as_student, at_saw)

        assert "The machine&#x27;s manual, local codes, school policy" in page
        assert "Table saw: guard and riving knife on" in page
        assert "<li>The fence sticks: lock it twice.</li>" in page
        assert "<dt>Kerf</dt><dd>1/8 in</dd>" in page

    def test_what_is_asked_with_who_and_note(self, at_saw, as_student, build, saw):
        seen, check, _age = ask(saw, Kind.DEMONSTRATION, Kind.CHECK, Kind.AGE)
        record(build.student, seen, note="on the blue saw")
        record(build.student, check, score="9 of 10", by=build.student)
        page = page_of(as_student, at_saw)

        assert "Ottoline Varga: <q>on the blue saw</q>" in page
        assert "Perpetua Lindqvale, 9 of 10" in page
        assert "Not recorded yet" in page
        assert "Follow local law and school policy" in page
        assert "This says what was recorded here, no more." in page

    def test_history_newest_first(self, at_saw, as_student, build, saw):
        (seen,) = ask(saw, Kind.DEMONSTRATION)
        now = timezone.now()
        record(build.student, seen, at=now - timedelta(days=2))
        sign_off(build.student, saw, at=now - timedelta(days=1))
        saw.checks_taken.create(
            student=build.student,
            answers=[],
            right=9,
            asked=10,
            pass_mark_pct=80,
            passed=True,
            at=now,
        )
        page = page_of(as_student, at_saw).partition("The record, newest first")[2]
        lines = ["Written check: 9 of 10, passed", "Signed off", "Met: Watch a"]

        assert [line in page for line in lines] == [True] * 3
        assert sorted(lines, key=page.index) == lines

    def test_after_a_withdrawal_it_says_what_is_asked_anew(
        self, at_saw, as_student, build, saw
    ):
        (seen,) = ask(saw, Kind.DEMONSTRATION)
        record(build.student, seen)
        sign_off(build.student, saw)
        sign_off(build.student, saw, act=SignOff.Act.WITHDRAWN, note="left it running")

        assert "Asked anew: the record of" in page_of(as_student, at_saw)

    def test_a_machine_of_another_shop_is_not_found(self, build, as_student):
        other = MachineFactory.create()
        url = reverse("build-machine", args=[build.pk, other.pk])

        assert as_student.get(url).status_code == 404

    def test_who_may_sign_is_led_there(self, at_saw, build, saw, client_of, shop_class):
        there = reverse("sign-off", args=[build.pk, saw.pk])
        signer, helper = help_in(shop_class, "may_sign"), help_in(shop_class)

        assert there in page_of(client_of(signer), at_saw)
        assert there not in page_of(client_of(helper), at_saw)
        assert there not in page_of(client_of(build.student), at_saw)


class TestReading:
    def test_the_student_says_so(self, at_saw, read, as_student, build, saw):
        sheet, _age = ask(saw, Kind.SHEET, Kind.AGE)
        assert "I have read this sheet" in page_of(as_student, at_saw)
        answered = as_student.post(read)
        row = RequirementRecord.objects.get()

        assert answered.headers["Location"] == at_saw
        assert (row.requirement, row.student, row.by) == (
            sheet,
            build.student,
            build.student,
        )
        assert "I have read this sheet" not in page_of(as_student, at_saw)

    def test_twice_is_once(self, read, as_student, saw):
        ask(saw, Kind.SHEET)
        as_student.post(read)
        as_student.post(read)

        assert RequirementRecord.objects.count() == 1

    def test_nobody_says_it_for_them(self, at_saw, read, as_instructor, saw):
        ask(saw, Kind.SHEET)

        assert "I have read this sheet" not in page_of(as_instructor, at_saw)
        assert as_instructor.post(read).status_code == 403

    def test_not_in_an_archived_class(self, at_saw, read, as_student, saw, shop_class):
        ask(saw, Kind.SHEET)
        shop_class.archived_at = timezone.now()
        shop_class.save()

        assert "I have read this sheet" not in page_of(as_student, at_saw)
        assert as_student.post(read).status_code == 403
        assert not RequirementRecord.objects.exists()
