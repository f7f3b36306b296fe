"""Opening a class, and how the instructor reads it."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from projects.models import Build, ShopClass, User
from projects.roster import MOST_STUDENTS
from tests.factories import (
    OPENING,
    POPLAR,
    SHELF_CUT,
    RevisionFactory,
    enrol,
    log,
    log_stock,
)


@pytest.fixture
def open_class(build, as_instructor):
    """Send the form that opens a class."""

    def post(**fields):
        data = {
            "title": "Mondays",
            "revision": build.revision_id,
            "roster": "Ann Other\nAnn  O. Ther\nZoë Brandt",
        }
        url = reverse("class-create")
        return as_instructor.post(url, {**data, **fields}, follow=True)

    return post


def text(response):
    return response.content.decode()


class TestOpening:
    def test_everybody_gets_a_sign_in_that_works(self, open_class):
        answered = open_class()
        rows = re.findall(r"<td>([a-z0-9-]+)</td><td>([a-z0-9-]+)</td>", text(answered))

        assert [name for name, _ in rows] == ["ann-other", "ann-o-ther", "zoe-brandt"]
        for username, password in rows:
            data = {"username": username, "password": password}
            assert Client().post(reverse("sign-in"), data).status_code == 302
        assert ShopClass.objects.get(title="Mondays").builds.count() == 3

    def test_the_passwords_are_shown_once_and_kept_by_no_browser(self, open_class):
        answered = open_class()

        assert "no-store" in answered.headers["Cache-Control"]
        assert "Print this page now" in text(answered)

    @pytest.mark.parametrize(
        ("fields", "told"),
        [
            ({"title": ""}, "This field is required."),
            ({"title": "x" * 81}, "at most 80 characters"),
            ({"roster": ""}, "This field is required."),
            ({"roster": " \n \n"}, "This field is required."),
            ({"roster": "x" * 81}, "at most 80 letters"),
            ({"roster": "Ann\nBo\n ann\nAnn "}, "stands here twice: Ann."),
            ({"roster": "\n".join(map(str, range(61)))}, "61 names were read"),
            ({"revision": 10**9}, "not one of the available choices"),
            ({"revision": ""}, "This field is required."),
        ],
    )
    def test_what_cannot_be_read_is_told_and_kept(self, fields, told, open_class):
        before = User.objects.count()
        answered = open_class(**fields)

        assert answered.status_code == 422
        assert told in text(answered)
        assert "Mondays" in text(answered) or "title" in fields
        assert User.objects.count() == before
        assert not ShopClass.objects.filter(title="Mondays").exists()

    def test_a_full_class_is_let_in(self, open_class):
        names = "\n".join(f"Student {n}" for n in range(MOST_STUDENTS))

        assert open_class(roster=names).status_code == 200

    def test_names_are_read_in_any_script(self, open_class):
        names = "李小龙\nآنا مریم\nمی‌خواهم\nÅsa Öberg"  # with a joiner in the third
        answered = open_class(roster=names)

        assert answered.status_code == 200
        assert all(name in text(answered) for name in names.split("\n"))

    def test_the_plan_of_somebody_else_is_no_choice(self, open_class):
        theirs = RevisionFactory.create()

        assert open_class(revision=theirs.pk).status_code == 422

    def test_an_instructor_without_a_plan_is_helped(self, client_of, colleague):
        page = text(client_of(colleague).get(reverse("class-create")))

        assert reverse("plan-list") in page


class TestTheClass:
    @pytest.fixture
    def page(self, shop_class, as_instructor):
        begun = enrol(shop_class, name="A begun")
        enrol(shop_class, name="B new")
        waiting = enrol(shop_class, name="C waiting")
        done = enrol(shop_class, name="D done")
        doubtful = enrol(shop_class, name="E doubtful")
        log(begun, POPLAR, "0.742")
        for build in (waiting, done, doubtful):
            log_stock(build)
        for build in (done, doubtful):
            log(build, OPENING, "34 1/2", instrument="tape")
        log(doubtful, SHELF_CUT, "34", instrument="tape")
        return text(as_instructor.get(reverse("class-detail", args=[shop_class.pk])))

    def row(self, page, name):
        start = page.index(f">{name}</a>")
        return page[start : page.index("</tr>", start)]

    @pytest.mark.parametrize(
        ("name", "state", "following"),
        [
            ("A begun", "measuring stock", "Measure 3/4 in yellow-poplar, place 2"),
            ("B new", "not measured yet", "Measure 3/4 in yellow-poplar, place 1"),
            ("C waiting", "waits for the dry fit", "Opening between the sides"),
            ("E doubtful", "1 reading in doubt", "Measure again"),
        ],
    )
    def test_each_row_tells_where_somebody_is(self, name, state, following, page):
        row = self.row(page, name)

        assert state in row
        assert following in row

    def test_a_row_counts_readings_and_cuts(self, page):
        assert '<td class="num wide">8</td><td class="num wide">1 of 16</td>' in (
            self.row(page, "E doubtful")
        )

    def test_it_leads_to_each_build_and_sheet(self, page, shop_class):
        for build in Build.objects.filter(shop_class=shop_class):
            assert reverse("build-detail", args=[build.pk]) in page
            assert reverse("cut-sheet", args=[build.pk]) in page

    @pytest.mark.parametrize("students", [5, 30])
    def test_queries_do_not_grow_with_the_class(
        self, students, shop_class, as_instructor, django_assert_num_queries
    ):
        for _ in range(students):
            log(enrol(shop_class), POPLAR, "0.742")
        url = reverse("class-detail", args=[shop_class.pk])
        # session, user, class, builds, readings, builds behind the newest revision
        with django_assert_num_queries(6):
            answered = as_instructor.get(url)

        assert text(answered).count("measuring stock") == students

    def test_the_list_takes_three(
        self, shop_class, as_instructor, django_assert_num_queries
    ):
        with django_assert_num_queries(3):
            as_instructor.get(reverse("class-list"))


class TestNewPassword:
    def test_the_old_one_stops_and_the_new_one_is_shown_once(
        self, as_instructor, build, client
    ):
        before = build.student.password
        answered = as_instructor.post(reverse("new-password", args=[build.pk]))
        page = as_instructor.get(answered.url)
        ((name, username, password),) = page.context["sign_ins"]
        build.student.refresh_from_db()

        assert (name, username) == (build.student.name, build.student.username)
        assert build.student.password != before
        assert build.student.check_password(password)
        assert as_instructor.get(answered.url).status_code == 302

    def test_a_student_makes_nobody_a_new_one(self, as_student, build):
        answered = as_student.post(reverse("new-password", args=[build.pk]))

        assert answered.status_code == 404
