"""What a class is called, its term, and its archive."""

from datetime import date

import pytest
from django.urls import reverse


@pytest.fixture
def url(shop_class):
    return reverse("class-settings", args=[shop_class.pk])


@pytest.fixture
def archive_url(shop_class):
    return reverse("class-archive", args=[shop_class.pk])


class TestSettings:
    def test_it_shows_what_is_kept(self, url, as_instructor, shop_class):
        shop_class.starts_on = date(2026, 9, 3)
        shop_class.save()
        page = as_instructor.get(url).content.decode()

        assert 'value="Thursday evenings"' in page
        assert 'value="2026-09-03"' in page

    def test_it_leads_to_all_else(self, url, as_instructor, shop_class):
        page = as_instructor.get(url).content.decode()

        for name in ("class-staff", "class-export", "class-delete", "class-archive"):
            assert reverse(name, args=[shop_class.pk]) in page

    def test_it_keeps_what_is_typed(self, url, as_instructor, shop_class):
        given = {"title": "Fridays", "starts_on": "2026-09-04", "ends_on": "2026-09-04"}
        answered = as_instructor.post(url, given)
        shop_class.refresh_from_db()

        assert answered.headers["Location"] == url
        assert shop_class.title == "Fridays"
        assert shop_class.starts_on == shop_class.ends_on == date(2026, 9, 4)

    def test_a_term_may_have_no_dates(self, url, as_instructor, shop_class):
        as_instructor.post(url, {"title": "Fridays"})
        shop_class.refresh_from_db()

        assert shop_class.starts_on is None

    def test_an_end_before_the_start_is_refused(self, url, as_instructor, shop_class):
        given = {"title": "Fridays", "starts_on": "2026-09-04", "ends_on": "2026-09-03"}
        answered = as_instructor.post(url, given)
        page = answered.content.decode()

        assert answered.status_code == 422
        assert "This is before the first day, 4 Sep 2026." in page
        assert 'value="Fridays"' in page
        assert 'aria-describedby="id_ends_on_error"' in page
        shop_class.refresh_from_db()
        assert shop_class.title == "Thursday evenings"

    def test_it_takes_three_queries(
        self, url, as_instructor, django_assert_num_queries
    ):
        with django_assert_num_queries(3):  # session, user, class
            as_instructor.get(url)


class TestArchive:
    def test_an_archived_class_takes_no_writes(
        self, url, archive_url, as_instructor, shop_class
    ):
        assert as_instructor.post(archive_url).headers["Location"] == url
        shop_class.refresh_from_db()

        assert shop_class.archived_at is not None
        assert as_instructor.post(url, {"title": "x"}).status_code == 403
        assert "Archived on" in as_instructor.get(url).content.decode()

    def test_it_can_be_opened_again(self, archive_url, as_instructor, shop_class):
        as_instructor.post(archive_url)
        as_instructor.post(archive_url, {"reopen": "1"})
        shop_class.refresh_from_db()

        assert shop_class.archived_at is None

    def test_archiving_twice_keeps_the_first_date(
        self, archive_url, as_instructor, shop_class
    ):
        as_instructor.post(archive_url)
        shop_class.refresh_from_db()
        first = shop_class.archived_at
        as_instructor.post(archive_url)
        shop_class.refresh_from_db()

        assert shop_class.archived_at == first

    @pytest.mark.parametrize(
        "name", ["class-settings", "class-meetings", "class-staff", "near-miss-list"]
    )
    def test_every_page_of_it_can_be_read_and_not_written(
        self, name, archive_url, as_instructor, shop_class
    ):
        as_instructor.post(archive_url)
        page = reverse(name, args=[shop_class.pk])

        assert as_instructor.get(page).status_code == 200
        assert as_instructor.post(page, {"follows": "1"}).status_code == 403
