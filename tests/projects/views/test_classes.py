"""Opening a class, and the list of them."""

import re

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from projects.models import Build, Membership, ShopClass, User
from projects.roster import MOST_STUDENTS
from tests.factories import (
    RevisionFactory,
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
    def test_it_leads_to_the_roster_where_everybody_has_a_code(self, open_class):
        answered = open_class()
        made = ShopClass.objects.get(title="Mondays")
        roster = reverse("class-roster", args=[made.pk])
        codes = re.findall(r'<span class="code">([a-z0-9-]+)</span>', text(answered))

        assert answered.redirect_chain == [(roster, 302)]
        assert made.builds.count() == 3
        assert len(set(codes)) == 3
        for code in codes:
            answered = Client().post(reverse("join"), {"code": code})
            assert answered.status_code == 302

    def test_nobody_can_sign_in_before_joining(self, open_class):
        open_class()

        assert not any(
            build.student.has_joined
            for build in Build.objects.filter(shop_class__title="Mondays")
        )

    def test_the_roster_can_be_filled_later(self, open_class):
        assert open_class(roster=" \n \n").status_code == 200
        assert ShopClass.objects.get(title="Mondays").builds.count() == 0

    @pytest.mark.parametrize(
        ("fields", "told"),
        [
            ({"title": ""}, "This field is required."),
            ({"title": "x" * 81}, "at most 80 characters"),
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

    def test_two_plans_of_one_title_are_told_apart(self, as_instructor, instructor):
        made = [RevisionFactory.create(plan__owner=instructor) for _n in range(2)]
        page = text(as_instructor.get(reverse("class-create")))

        for revision in made:
            at = timezone.localtime(revision.published_at)
            assert f", revision {revision.number} of {at.day} " in page
            assert f"{at:%H:%M}, {instructor.name}</option>" in page


class TestTheList:
    def test_it_takes_few_queries(
        self, shop_class, as_instructor, django_assert_num_queries
    ):
        with django_assert_num_queries(4):  # session, user, classes, own builds
            as_instructor.get(reverse("class-list"))

    def test_who_helps_sees_the_class_and_nothing_to_open(
        self, shop_class, other_class, client_of, assistant
    ):
        page = text(client_of(assistant).get(reverse("class-list")))

        assert reverse("class-detail", args=[shop_class.pk]) in page
        assert reverse("class-detail", args=[other_class.pk]) not in page
        assert reverse("class-create") not in page
        assert reverse("account-pin") in page

    def test_who_no_longer_helps_is_refused(self, shop_class, client_of, assistant):
        assistant.memberships.update(left_at=timezone.now())

        assert client_of(assistant).get(reverse("class-list")).status_code == 403

    def test_an_instructor_without_a_class_is_told(self, client_of, colleague):
        page = text(client_of(colleague).get(reverse("class-list")))

        assert "You teach no class yet." in page

    def test_archived_classes_are_folded_away(self, shop_class, as_instructor):
        shop_class.archived_at = timezone.now()
        shop_class.save()
        page = text(as_instructor.get(reverse("class-list")))

        assert "All your classes are archived." in page
        assert shop_class.title in page.partition("<details")[2]
        assert shop_class.title not in page.partition("<details")[0]

    def test_who_helps_and_builds_finds_the_build_too(
        self, build, client_of, other_class
    ):
        Membership.objects.create(
            shop_class=other_class,
            user=build.student,
            role=Membership.Role.ASSISTANT,
        )
        page = text(client_of(build.student).get(reverse("class-list")))

        assert reverse("build-steps", args=[build.pk]) in page
