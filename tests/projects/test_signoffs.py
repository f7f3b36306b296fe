"""Where students stand with machines, from the record."""

from datetime import UTC, date, datetime, timedelta

import pytest

from projects import actions, signoffs
from projects.engine.errors import EngineError
from projects.models import Machine, Requirement, RequirementRecord, SignOff
from projects.signoffs import Act, Change, acts_from, asked, lapse_date, standing
from tests.factories import MachineFactory, enrol, help_in, sign_off
from tests.signing import Kind, ask, record

TODAY = date(2026, 3, 2)
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)


def signed(**fields):
    return SignOff(act=SignOff.Act.SIGNED, **fields)


class TestStanding:
    @pytest.mark.parametrize(
        ("newest", "state", "may_use"),
        [
            (None, "none", False),
            (signed(), "signed", True),
            (signed(lapses_on=TODAY), "signed", True),
            (signed(lapses_on=TODAY - timedelta(days=1)), "lapsed", False),
            (SignOff(act=SignOff.Act.RENEWED, lapses_on=TODAY), "signed", True),
            (SignOff(act=SignOff.Act.WITHDRAWN), "withdrawn", False),
        ],
    )
    def test_the_newest_row_counts(self, newest, state, may_use):
        found = standing(newest, today=TODAY)

        assert (found.state, found.may_use) == (state, may_use)

    @pytest.mark.parametrize(
        ("newest", "acts"),
        [
            (None, ["signed"]),
            (signed(), ["renewed", "withdrawn"]),
            (signed(lapses_on=date(2020, 1, 1)), ["renewed", "withdrawn"]),
            (SignOff(act=SignOff.Act.WITHDRAWN), ["signed"]),
        ],
    )
    def test_what_can_be_done_next(self, newest, acts):
        assert list(acts_from(standing(newest, today=TODAY))) == acts


class TestAsked:
    def one(self, kind, *records, withdrawn_at=None):
        requirement = Requirement(pk=1, kind=kind)
        rows = [
            RequirementRecord(requirement_id=1, met=met, at=at) for met, at in records
        ]
        (found,) = asked([requirement], rows, withdrawn_at=withdrawn_at)
        return found

    def test_nothing_recorded_is_not_met(self):
        found = self.one(Kind.SHEET)

        assert not found.is_met
        assert not found.must_be_anew

    def test_the_newest_record_counts(self):
        assert self.one(Kind.AGE, (True, NOON)).is_met
        assert not self.one(Kind.AGE, (True, NOON), (False, NOON)).is_met
        assert self.one(Kind.AGE, (False, NOON), (True, NOON)).is_met

    @pytest.mark.parametrize("kind", [Kind.DEMONSTRATION, Kind.SUPERVISED_CUT])
    def test_after_a_withdrawal_it_is_seen_and_done_anew(self, kind):
        before = self.one(kind, (True, NOON), withdrawn_at=NOON + HOUR)
        at_once = self.one(kind, (True, NOON), withdrawn_at=NOON)
        after = self.one(kind, (True, NOON + HOUR), withdrawn_at=NOON)

        assert not before.is_met
        assert before.must_be_anew
        assert not at_once.is_met
        assert after.is_met
        assert not after.must_be_anew

    @pytest.mark.parametrize(
        "kind", [Kind.SHEET, Kind.CHECK, Kind.AGE, Kind.CONSENT, Kind.OTHER]
    )
    def test_all_else_outlasts_a_withdrawal(self, kind):
        assert self.one(kind, (True, NOON), withdrawn_at=NOON + HOUR).is_met

    def test_what_was_taken_back_is_no_matter_of_a_withdrawal(self):
        found = self.one(Kind.DEMONSTRATION, (False, NOON), withdrawn_at=NOON + HOUR)

        assert not found.must_be_anew

    def test_what_is_asked_no_more_is_left_out(self):
        retired = Requirement(pk=1, kind=Kind.AGE, retired_at=NOON)

        assert asked([retired], [], withdrawn_at=None) == ()


class TestLapseDate:
    @pytest.mark.parametrize(
        ("months", "today", "lapses"),
        [
            (None, TODAY, None),
            (12, TODAY, date(2027, 3, 2)),
            (1, date(2026, 1, 31), date(2026, 2, 28)),
            (1, date(2024, 1, 31), date(2024, 2, 29)),
            (10, TODAY, date(2027, 1, 2)),
            (6, date(2026, 6, 30), date(2026, 12, 30)),
            (24, date(2024, 2, 29), date(2026, 2, 28)),
        ],
    )
    def test_months_are_added_to_the_day(self, months, today, lapses):
        assert lapse_date(Machine(lapses_after_months=months), today) == lapses


@pytest.fixture
def saw(shop_class):
    return MachineFactory.create(shop=shop_class.shop)


class TestMachineRecords:
    def test_it_keeps_students_and_machines_apart(self, build, saw, shop_class):
        other = MachineFactory.create(shop=shop_class.shop, kind="planer")
        classmate = enrol(shop_class).student
        (met,) = ask(saw, Kind.AGE)
        record(build.student, met)
        sign_off(classmate, other)
        found = signoffs.machine_records(
            [build.student.pk, classmate.pk], [saw, other], today=TODAY
        )

        assert found[build.student.pk, saw.pk].met_count == 1
        assert found[classmate.pk, saw.pk].lacking == (met,)
        assert found[classmate.pk, other.pk].standing.may_use
        assert not found[build.student.pk, other.pk].standing.may_use

    def test_it_takes_three_queries_for_any_class(
        self, build, saw, shop_class, django_assert_num_queries
    ):
        (asks,) = ask(saw, Kind.AGE)
        students = [enrol(shop_class).student for _ in range(5)]
        for student in students:
            record(student, asks)
            sign_off(student, saw)
        with django_assert_num_queries(3):
            found = signoffs.machine_records(
                [student.pk for student in students], [saw], today=TODAY
            )
            assert all(one.sign_offs[0].by.name for one in found.values())

    def test_renewing_does_not_end_the_need_to_see_it_anew(self, build, saw):
        (seen,) = ask(saw, Kind.DEMONSTRATION)
        record(build.student, seen, at=NOON)
        sign_off(build.student, saw, at=NOON)
        sign_off(build.student, saw, act=SignOff.Act.WITHDRAWN, at=NOON + HOUR)
        sign_off(build.student, saw, at=NOON + 2 * HOUR)
        found = signoffs.machine_record(build.student.pk, saw, today=TODAY)

        assert found.lacking == (seen,)


class TestRecordSignOff:
    def test_what_it_records_now_counts_for_the_sign_off(self, build, saw, instructor):
        (asks,) = ask(saw, Kind.SUPERVISED_CUT)
        actions.record_sign_off(
            build.student,
            saw,
            by=instructor,
            changes=[Change(requirement=asks, met=True, note="clean cut")],
            act=Act(act="signed", lapses_on=date(2030, 1, 1)),
        )
        met, row = RequirementRecord.objects.get(), SignOff.objects.get()

        assert (met.by, met.note, met.title) == (instructor, "clean cut", asks.title)
        assert (row.by, row.lapses_on) == (instructor, date(2030, 1, 1))
        assert met.at == row.at

    def test_what_lacks_is_named_and_nothing_written(self, build, saw, instructor):
        seen, _cut = ask(saw, Kind.DEMONSTRATION, Kind.SUPERVISED_CUT)
        with pytest.raises(EngineError, match="Still asked: Make a supervised cut"):
            actions.record_sign_off(
                build.student,
                saw,
                by=instructor,
                changes=[Change(requirement=seen, met=True)],
                act=Act(act="signed"),
            )

        assert not RequirementRecord.objects.exists()
        assert not SignOff.objects.exists()

    @pytest.mark.parametrize("act", ["renewed", "withdrawn"])
    def test_nothing_is_renewed_or_withdrawn_before_it_was_signed(
        self, act, build, saw, instructor
    ):
        with pytest.raises(EngineError, match="changed meanwhile"):
            actions.record_sign_off(
                build.student, saw, by=instructor, act=Act(act=act, note="why")
            )

    def test_nothing_is_signed_twice(self, build, saw, instructor):
        sign_off(build.student, saw)
        with pytest.raises(EngineError, match="changed meanwhile"):
            actions.record_sign_off(
                build.student, saw, by=instructor, act=Act(act="signed")
            )

    def test_a_withdrawal_never_lapses(self, build, saw, instructor):
        sign_off(build.student, saw)
        actions.record_sign_off(
            build.student,
            saw,
            by=instructor,
            act=Act(act="withdrawn", note="why", lapses_on=date(2030, 1, 1)),
        )

        assert SignOff.objects.get(act="withdrawn").lapses_on is None


class TestSigners:
    def test_staff_who_may_sign_by_name(self, shop_class, instructor, build):
        help_in(shop_class, "may_log", name="Aled Vosk")
        signer = help_in(shop_class, "may_sign", name="Bettrys Onderhill")
        found = signoffs.signers_of(shop_class, student=build.student.pk)

        assert found == [signer, instructor]

    def test_nobody_signs_for_themself(self, shop_class, instructor):
        signer = help_in(shop_class, "may_sign")

        assert signoffs.signers_of(shop_class, student=signer.pk) == [instructor]
