"""What the models keep, and what they refuse."""

from fractions import Fraction

import pytest
from django.db import DatabaseError, connection, transaction

from projects.models import Build, Membership, Reading, Revision, User
from projects.models.append_only import AppendOnlyError
from tests.factories import POPLAR, RevisionFactory, enrol, log


@pytest.fixture
def reading(build):
    log(build, POPLAR, "0.742")
    return build.readings.get()


@pytest.fixture
def revision(build):
    return build.revision


@pytest.fixture(params=["reading", "revision"])
def row(request):
    return request.getfixturevalue(request.param)


class TestAppendOnly:
    def test_saving_again_is_refused(self, row):
        with pytest.raises(AppendOnlyError, match="never changed"):
            row.save()

    def test_deleting_is_refused(self, row):
        with pytest.raises(AppendOnlyError, match="never deleted"):
            row.delete()

    def test_updating_many_is_refused(self, row):
        rows = type(row).objects.all()

        with pytest.raises(AppendOnlyError, match="never changed"):
            rows.update(pk=7)
        with pytest.raises(AppendOnlyError, match="never changed"):
            rows.bulk_update([row], ["pk"])

    def test_deleting_many_is_refused(self, row):
        with pytest.raises(AppendOnlyError, match="never deleted"):
            type(row).objects.all().delete()

    def test_bulk_ways_around_are_refused(self, row):
        with pytest.raises((AppendOnlyError, DatabaseError)), transaction.atomic():
            type(row)._base_manager.filter(pk=row.pk).update(id=row.pk + 1)

    def test_saving_over_a_row_by_its_number_is_refused(self, row):
        fields = {
            field.attname: getattr(row, field.attname)
            for field in row._meta.concrete_fields
        }
        with pytest.raises(DatabaseError), transaction.atomic():
            type(row)(**fields).save()

    @pytest.mark.parametrize(
        ("table", "column"),
        [
            ("projects_reading", "typed"),
            ("projects_reading", "mm"),
            ("projects_reading", "kept_after_second_look"),
            ("projects_revision", "document"),
            ("projects_revision", "number"),
        ],
    )
    def test_the_database_refuses_too(self, table, column, reading):
        sql = f"UPDATE {table} SET {column} = {column}"  # noqa: S608 - ours
        with (
            pytest.raises(DatabaseError, match="append-only"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(sql)


class TestReading:
    def test_a_length_comes_back_exactly(self, build):
        log(build, POPLAR, "0.7421")

        assert build.readings.get().mm == Fraction("0.7421") * Fraction("25.4")

    def test_rows_come_oldest_first(self, build):
        log(build, POPLAR, "0.744", "0.742", "0.741")

        assert [row.typed for row in build.readings.all()] == [
            "0.744",
            "0.742",
            "0.741",
        ]

    def test_it_says_what_it_is(self, reading):
        assert str(reading) == "stock:poplar34 point 1: 0.742"


class TestOpenTo:
    def test_a_student_sees_the_build_of_their_own(self, build, classmate, student):
        assert list(Build.objects.open_to(student)) == [build]

    def test_an_instructor_sees_the_class(self, build, classmate, stranger, instructor):
        seen = set(Build.objects.open_to(instructor))

        assert seen == set(build.shop_class.builds.all())
        assert len(seen) == 2

    def test_a_student_of_two_classes_teaches_neither(
        self, build, other_class, student
    ):
        Membership.objects.create(
            shop_class=other_class, user=student, role=Membership.Role.STUDENT
        )
        enrol(other_class)

        assert list(Build.objects.open_to(student)) == [build]

    def test_it_costs_one_query(self, build, student, django_assert_num_queries):
        with django_assert_num_queries(1):
            one = Build.objects.open_to(student).with_plan().get()
            said = f"{one.student.name}, {one.shop_class}, {one.revision}"

        assert said == (
            "Perpetua Lindqvale, Thursday evenings, Hall boot bench, revision 1"
        )


class TestNewestOf:
    def test_one_revision_a_plan(self, revision, instructor):
        newest = RevisionFactory.create(plan=revision.plan, number=2)
        RevisionFactory.create()

        assert list(Revision.objects.newest_of(instructor)) == [newest]


class TestUser:
    def test_a_sign_in_name_is_kept_in_lower_case(self, db):
        user = User.objects.create_user(" Ottoline ", "Ottoline Varga", "elmrasp")

        assert user.username == "ottoline"
        assert User.objects.get_by_natural_key("OTTOLINE ") == user
        assert user.check_password("elmrasp")

    def test_a_password_is_not_kept(self, db):
        user = User.objects.create_user("ottoline", "Ottoline Varga", "elmrasp")

        assert "elmrasp" not in user.password


def test_real_passwords_are_hashed_with_argon2():
    from shopclass import settings

    assert "Argon2" in settings.PASSWORD_HASHERS[0]


def test_no_reading_goes_with_its_build(reading):
    from django.db.models import ProtectedError

    with pytest.raises(ProtectedError):
        Build.objects.get(pk=reading.build_id).delete()
    assert Reading.objects.count() == 1
