"""A class's data: taken along whole, or erased."""

import io
import zipfile

import pytest
from django.urls import reverse
from django.utils import timezone

from projects import actions
from projects.class_tables import TABLES
from projects.models import Meeting, ShopClass, User
from tests.factories import ShopClassFactory, enrol, log_stock
from tests.projects.filled import fill


class TestTheExport:
    @pytest.fixture
    def url(self, shop_class):
        return reverse("class-export", args=[shop_class.pk])

    def test_it_comes_as_a_zip(self, url, as_instructor, shop_class, build):
        answered = as_instructor.get(url)
        today = timezone.localdate().isoformat()

        assert answered.headers["Content-Type"] == "application/zip"
        assert answered.headers["Content-Disposition"] == (
            f'attachment; filename="class-{shop_class.pk}-{today}.zip"'
        )
        assert "no-store" in answered.headers["Cache-Control"]
        with zipfile.ZipFile(io.BytesIO(answered.content)) as found:
            assert found.testzip() is None
            assert b"Perpetua Lindqvale" in found.read("members.csv")

    def test_an_archived_class_can_be_taken_along(self, url, as_instructor, shop_class):
        actions.archive_class(shop_class)

        assert as_instructor.get(url).status_code == 200

    def test_it_takes_as_many_queries_for_a_big_class(
        self, url, as_instructor, shop_class, instructor, django_assert_num_queries
    ):
        fill(enrol(shop_class), instructor)
        queries = 3 + len(TABLES)  # session, user, class, a table each
        with django_assert_num_queries(queries):
            as_instructor.get(url)
        for _n in range(3):
            fill(enrol(shop_class), instructor)
        with django_assert_num_queries(queries):
            as_instructor.get(url)


class TestDeletingAClass:
    @pytest.fixture
    def url(self, shop_class):
        return reverse("class-delete", args=[shop_class.pk])

    def test_the_page_says_what_goes_and_offers_the_export(
        self, url, as_instructor, shop_class, build, instructor
    ):
        fill(build, instructor)
        page = as_instructor.get(url).content.decode()

        assert reverse("class-export", args=[shop_class.pk]) in page
        for words in (
            "1 student or assistant, with:", "6 readings", "1 step marked",
            "1 entry in the record of sign-offs", "1 written check",
            "2 entries in the log of near misses", "1 meeting",
        ):  # fmt: skip
            assert words in page

    def test_it_goes_once_its_title_is_typed(self, url, as_instructor, build, student):
        log_stock(build)
        answered = as_instructor.post(url, {"typed": "Thursday evenings"})

        assert answered.headers["Location"] == reverse("class-list")
        assert not ShopClass.objects.exists()
        assert not User.objects.filter(pk=student.pk).exists()
        assert as_instructor.get(url).status_code == 404

    @pytest.mark.parametrize(
        "typed", ["", "thursday evenings", "Thursday", "Thursday evenings!"]
    )
    def test_nearly_the_title_deletes_nothing(self, typed, url, as_instructor, build):
        answered = as_instructor.post(url, {"typed": typed})
        page = answered.content.decode()

        assert answered.status_code == 422
        assert ShopClass.objects.exists()
        assert 'aria-describedby="id_typed_error"' in page
        assert not typed or f'value="{typed}"' in page

    def test_an_archived_class_can_be_deleted(self, url, as_instructor, shop_class):
        actions.archive_class(shop_class)
        as_instructor.post(url, {"typed": "Thursday evenings"})

        assert not ShopClass.objects.exists()

    def test_the_page_takes_as_many_queries_for_a_big_class(
        self, url, as_instructor, shop_class, django_assert_num_queries
    ):
        enrol(shop_class)
        queries = 14
        with django_assert_num_queries(queries):
            as_instructor.get(url)
        for _n in range(5):
            log_stock(enrol(shop_class))
        Meeting.objects.create(shop_class=shop_class, starts_at=timezone.now())
        with django_assert_num_queries(queries):
            as_instructor.get(url)


class TestDeletingAStudent:
    @pytest.fixture
    def url(self, shop_class, student):
        return reverse("student-delete", args=[shop_class.pk, student.pk])

    def test_the_page_says_what_goes(self, url, as_instructor, build, instructor):
        fill(build, instructor)
        page = as_instructor.get(url).content.decode()

        assert "The name, the join card and the build, with:" in page
        assert "6 readings" in page
        assert "1 entry in the record of sign-offs" in page
        assert "other class" not in page

    def test_it_says_what_another_class_keeps(
        self, url, as_instructor, build, student, instructor, shop_class
    ):
        fill(build, instructor)
        second = ShopClassFactory.create(
            title="Second", revision=build.revision, shop=shop_class.shop
        )
        actions.enrol(second, student)
        page = as_instructor.get(url).content.decode()

        assert "The build in this class, with:" in page
        assert "record of sign-offs" not in page
        assert "another class of this shop goes by them" in page

    def test_they_go_once_their_name_is_typed(
        self, url, as_instructor, student, classmate, shop_class
    ):
        answered = as_instructor.post(url, {"typed": "Perpetua Lindqvale"})

        roster = reverse("class-roster", args=[shop_class.pk])
        assert answered.headers["Location"] == roster
        assert not User.objects.filter(pk=student.pk).exists()
        assert User.objects.filter(pk=classmate.pk).exists()

    def test_another_name_deletes_nobody(self, url, as_instructor, student, classmate):
        answered = as_instructor.post(url, {"typed": classmate.name})

        assert answered.status_code == 422
        assert User.objects.filter(pk__in=[student.pk, classmate.pk]).count() == 2

    def test_who_has_left_can_be_deleted(self, url, as_instructor, student):
        student.memberships.update(left_at=timezone.now())
        as_instructor.post(url, {"typed": "Perpetua Lindqvale"})

        assert not User.objects.filter(pk=student.pk).exists()

    @pytest.mark.parametrize("who", ["assistant", "instructor", "stranger"])
    def test_only_students_of_the_class(self, who, request, as_instructor, shop_class):
        person = request.getfixturevalue(who)
        url = reverse("student-delete", args=[shop_class.pk, person.pk])

        assert as_instructor.get(url).status_code == 404
        assert as_instructor.post(url, {"typed": person.name}).status_code == 404
