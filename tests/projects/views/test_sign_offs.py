"""Signing a student off on a machine."""

from datetime import date

import pytest
from axes.models import AccessAttempt
from django.urls import reverse
from django.utils import timezone

from projects.models import RequirementRecord, SignOff
from projects.signoffs import lapse_date
from tests.factories import MachineFactory, help_in, sign_off
from tests.signing import PIN, Kind, ask, record, with_pin

FAR = "2999-03-03"


@pytest.fixture
def saw(shop_class):
    return MachineFactory.create(shop=shop_class.shop, lapses_after_months=12)


@pytest.fixture
def asks(saw):
    """What the saw asks: a demonstration and a supervised cut."""
    return ask(saw, Kind.DEMONSTRATION, Kind.SUPERVISED_CUT)


@pytest.fixture
def url(build, saw):
    return reverse("sign-off", args=[build.pk, saw.pk])


@pytest.fixture(autouse=True)
def _pin(instructor):
    with_pin(instructor)


@pytest.fixture
def send(url, as_instructor, instructor):
    """Send the form as the instructor; give what is answered: send(act="signed")."""

    def post(client=as_instructor, **fields):
        given = {"signer": instructor.pk, "pin": PIN, "lapses_on": FAR, **fields}
        return client.post(url, {k.replace("_of_", "-"): v for k, v in given.items()})

    return post


def page_of(answered):
    return " ".join(answered.content.decode().split())


class TestThePage:
    def test_it_is_filled_in(self, url, as_instructor, instructor, saw):
        page = page_of(as_instructor.get(url))
        lapses = lapse_date(saw, timezone.localdate())

        assert f'value="{lapses}"' in page
        assert f'<option value="{instructor.pk}" selected>' in page
        assert "Withdraw<" not in page

    def test_who_is_signed_in_stands_chosen(
        self, url, client_of, shop_class, instructor
    ):
        signer = help_in(shop_class, "may_sign")
        page = page_of(client_of(signer).get(url))

        assert f'<option value="{signer.pk}" selected>' in page
        assert f'<option value="{instructor.pk}">' in page

    def test_no_student_stands_in_the_list(self, url, as_instructor, build, classmate):
        page = page_of(as_instructor.get(url))

        assert f'<option value="{build.student.pk}"' not in page
        assert f'<option value="{classmate.pk}"' not in page

    def test_without_a_pin_it_leads_to_setting_one(
        self, url, as_instructor, instructor
    ):
        instructor.pin = ""
        instructor.save()

        assert reverse("account-pin") in page_of(as_instructor.get(url))

    def test_no_pin_stands_on_it(self, send):
        page = page_of(send(act="signed", pin="90351"))

        assert "90351" not in page
        assert "90351" not in AccessAttempt.objects.get().post_data


class TestRecording:
    def test_a_requirement_by_whose_pin_it_was(
        self, send, shop_class, build, asks, client_of
    ):
        signer = with_pin(help_in(shop_class, "may_sign"))
        answered = send(
            signer=signer.pk,
            **{
                f"met_of_{asks[0].pk}": "on",
                f"note_of_{asks[0].pk}": "with a push stick",
            },
        )
        row = RequirementRecord.objects.get()

        assert answered.status_code == 302
        assert (row.requirement, row.student, row.met) == (asks[0], build.student, True)
        assert (row.by, row.note) == (signer, "with a push stick")
        assert not SignOff.objects.exists()

    def test_taking_back_needs_a_note(self, send, build, asks):
        record(build.student, asks[0])
        without = send(**{f"back_of_{asks[0].pk}": "on"})
        assert without.status_code == 422
        assert "Say why it is taken back." in page_of(without)
        send(**{f"back_of_{asks[0].pk}": "on", f"note_of_{asks[0].pk}": "wrong name"})
        row = RequirementRecord.objects.latest("pk")

        assert RequirementRecord.objects.count() == 2
        assert (row.met, row.note) == (False, "wrong name")

    @pytest.mark.parametrize("kind", [Kind.SHEET, Kind.CHECK])
    def test_what_students_record_needs_a_note(self, kind, send, saw):
        (asked,) = ask(saw, kind)
        without = send(**{f"met_of_{asked.pk}": "on"})
        assert without.status_code == 422
        assert "Say how you know" in page_of(without)

        send(**{f"met_of_{asked.pk}": "on", f"note_of_{asked.pk}": "read it aloud"})
        assert RequirementRecord.objects.get().note == "read it aloud"

    def test_a_page_gone_stale_takes_nothing_back(self, send, build, asks):
        record(build.student, asks[0])
        answered = send(**{f"met_of_{asks[0].pk}": "on"})

        assert answered.status_code == 422
        assert RequirementRecord.objects.count() == 1

    def test_nothing_chosen_is_told(self, send):
        answered = send()

        assert answered.status_code == 422
        assert "Tick what was met" in page_of(answered)


class TestSigning:
    def met(self, build, asks):
        for requirement in asks:
            record(build.student, requirement)

    def test_once_all_is_met(self, send, build, asks, instructor, saw):
        self.met(build, asks)
        answered = send(act="signed", note="calm and slow")
        row = SignOff.objects.get()

        assert answered.headers["Location"] == reverse(
            "build-machine", args=[build.pk, saw.pk]
        )
        assert (row.act, row.student, row.machine) == ("signed", build.student, saw)
        assert (row.by, row.note, row.lapses_on) == (
            instructor,
            "calm and slow",
            date(2999, 3, 3),
        )

    def test_together_with_the_last_of_it(self, send, build, asks):
        record(build.student, asks[0])
        send(act="signed", **{f"met_of_{asks[1].pk}": "on"})

        assert RequirementRecord.objects.count() == 2
        assert SignOff.objects.count() == 1

    def test_what_lacks_is_named_and_nothing_recorded(self, send, asks):
        answered = send(act="signed", note="typed", **{f"met_of_{asks[0].pk}": "on"})
        page = page_of(answered)

        assert answered.status_code == 422
        assert "Still asked: Make a supervised cut." in page
        assert 'value="typed"' in page
        assert not RequirementRecord.objects.exists()
        assert not SignOff.objects.exists()

    def test_it_need_not_lapse(self, send):
        send(act="signed", lapses_on="")

        assert SignOff.objects.get().lapses_on is None

    def test_a_day_that_is_over_is_refused(self, send):
        answered = send(act="signed", lapses_on="2020-01-01")

        assert "This day is over" in page_of(answered)
        assert not SignOff.objects.exists()

    def test_a_second_tap_signs_nothing_more(self, send):
        send(act="signed")
        answered = send(act="signed")

        assert answered.status_code == 422
        assert "changed meanwhile" in page_of(answered)
        assert SignOff.objects.count() == 1

    def test_after_a_lapse_nothing_is_asked_anew(self, send, build, asks, saw):
        self.met(build, asks)
        sign_off(build.student, saw, lapses_on=date(2020, 1, 1))
        send(act="renewed")

        assert SignOff.objects.latest("pk").act == "renewed"

    def test_withdrawing_needs_the_reason(self, send, build, saw):
        sign_off(build.student, saw)
        without = send(act="withdrawn")
        assert without.status_code == 422
        assert "Say why it is withdrawn." in page_of(without)
        send(act="withdrawn", note="guard taken off")
        row = SignOff.objects.latest("pk")

        assert (row.act, row.note, row.lapses_on) == (
            "withdrawn",
            "guard taken off",
            None,
        )

    def test_after_a_withdrawal_it_is_seen_and_done_anew(self, send, build, asks, saw):
        self.met(build, asks)
        sign_off(build.student, saw)
        sign_off(build.student, saw, act=SignOff.Act.WITHDRAWN, note="why")
        lacking = page_of(send(act="signed"))
        assert "Still asked: Watch a demonstration; Make a supervised cut." in lacking
        send(act="signed", **{f"met_of_{one.pk}": "on" for one in asks})

        assert SignOff.objects.latest("pk").act == "signed"


class TestThePin:
    def test_a_wrong_one_records_nothing_and_keeps_what_was_typed(self, send):
        answered = send(act="signed", pin="9035", note="typed")
        page = page_of(answered)

        assert answered.status_code == 422
        assert "This is not the signing PIN of Ottoline Varga." in page
        assert 'value="typed"' in page
        assert not SignOff.objects.exists()

    def test_another_signers_pin_is_not_theirs(self, send, shop_class):
        signer = help_in(shop_class, "may_sign", name="Bettrys Onderhill")
        signer.pin = "md5$salt$nothing"
        signer.save()

        assert send(act="signed", signer=signer.pk).status_code == 422

    def test_who_has_none_is_told(self, send, shop_class):
        signer = help_in(shop_class, "may_sign", name="Bettrys Onderhill")
        answered = send(act="signed", signer=signer.pk)

        assert "Bettrys Onderhill has set no signing PIN yet." in page_of(answered)
        assert not SignOff.objects.exists()

    @pytest.mark.parametrize("who", ["build", "assistant", "other_instructor"])
    def test_nobody_else_signs(self, who, send, request):
        person = request.getfixturevalue(who)
        person = with_pin(getattr(person, "student", person))
        answered = send(act="signed", signer=person.pk)

        assert answered.status_code == 422
        assert "Choose who signs." in page_of(answered)
        assert not SignOff.objects.exists()

    def test_too_many_tries_lock_the_name_at_this_address(self, send):
        codes = [send(act="signed", pin="9035").status_code for _ in range(8)]
        last = send(act="signed")

        assert codes[:7] == [422] * 7
        assert last.status_code == 429
        assert "Wait a little" in last.content.decode()
        assert not SignOff.objects.exists()

    def test_a_right_one_forgets_the_tries_before(self, send):
        for _ in range(6):
            send(act="signed", pin="9035")
        assert send(act="signed").status_code == 302

        assert not AccessAttempt.objects.exists()

    def test_what_lacks_otherwise_costs_no_try(self, send):
        send(act="signed", pin="9035", lapses_on="2020-01-01")

        assert not AccessAttempt.objects.exists()


class TestWhoMay:
    def test_a_student_never_even_with_a_signers_pin(self, send, as_student):
        assert send(as_student, act="signed").status_code == 404
        assert not SignOff.objects.exists()

    def test_an_assistant_only_with_the_right(self, send, client_of, shop_class):
        assert send(client_of(help_in(shop_class)), act="signed").status_code == 403
        signer = help_in(shop_class, "may_sign")
        assert send(client_of(signer), act="signed").status_code == 302

    def test_not_in_an_archived_class(self, send, url, shop_class, as_instructor):
        shop_class.archived_at = timezone.now()
        shop_class.save()

        assert as_instructor.get(url).status_code == 403
        assert send(act="signed").status_code == 403
        assert not SignOff.objects.exists()

    def test_who_became_staff_never_signs_for_themself(self, send, build, client_of):
        build.shop_class.memberships.filter(user=build.student).update(
            role="assistant", may_sign=True
        )
        with_pin(build.student)
        own = send(client_of(build.student), act="signed", signer=build.student.pk)
        other = send(act="signed", signer=build.student.pk)

        assert own.status_code == 403
        assert other.status_code == 422
        assert not SignOff.objects.exists()

    def test_a_machine_of_another_shop_is_not_found(self, build, as_instructor):
        other = MachineFactory.create()
        url = reverse("sign-off", args=[build.pk, other.pk])

        assert as_instructor.get(url).status_code == 404
