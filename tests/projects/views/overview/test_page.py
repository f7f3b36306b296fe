"""The page around the rows: sorting, showing, queries, and who may."""

from datetime import timedelta

import pytest
from django.urls import reverse

from tests.factories import (
    PLYWOOD,
    POPLAR,
    MachineFactory,
    RevisionFactory,
    enrol,
    help_in,
    log,
    sign_off,
)
from tests.full_class import full_class
from tests.projects.views.overview.things import (
    AT,
    HTMX,
    longer,
    mark,
    names,
    raise_hand,
    since,
    steps_of,
    text,
)


class TestSortingAndShowing:
    @pytest.fixture
    def people(self, shop_class, saw):
        """Four students: A new, B with a hand up, C past the saw, D signed off."""
        made = {
            name: enrol(shop_class, name=f"{name} Student") for name in ("D", "B", "C")
        }
        made["A"] = enrol(shop_class, name="A Student")
        for build in (made["C"], made["D"]):
            for step in steps_of(build)[:4]:
                mark(build, step.key, at=AT - timedelta(days=1))
            for stock in (POPLAR, PLYWOOD):
                log(build, stock, "0.742", at=AT - timedelta(days=1))
        for step in steps_of(made["C"])[4:7]:
            mark(made["C"], step.key, at=AT - timedelta(hours=1))
        sign_off(made["D"].student, saw)
        raise_hand(made["B"])
        return made

    @pytest.mark.parametrize(
        ("query", "order"),
        [
            ("", "ABDC"),
            ("?sort=stage", "ABDC"),
            ("?sort=name", "ABCD"),
            ("?sort=quiet", "ADCB"),
            ("?sort=blocked", "BACD"),
            ("?sort=nonsense&show=nonsense&stage=nonsense", "ABDC"),
            ("?show=hands", "B"),
            ("?show=blocked", "AB"),
            ("?stage=joinery", "C"),
            ("?stage=mill&sort=name", "ABD"),
        ],
    )
    def test_as_asked(self, query, order, look, people):
        found = "".join(name[0] for name in names(text(look(query))))

        assert found == order

    def test_who_waits_for_a_sign_off(self, look, people):
        for kind in ("mitre_saw", "router"):
            MachineFactory.create(shop=people["A"].shop_class.shop, kind=kind)
        found = names(text(look("?show=not-signed")))

        assert [name[0] for name in found] == ["A", "B", "C"]

    def test_stages_stand_above_their_rows(self, look, people):
        page = text(look())

        assert page.index('id="g-mill"') < page.index('id="g-joinery"')
        assert 'href="?stage=joinery"' in page

    def test_what_is_chosen_is_marked_and_kept(self, look, people):
        page = text(look("?sort=name&show=hands"))

        assert 'href="?sort=name&amp;show=hands" aria-current="true">Name' in page
        assert 'href="?sort=name" >' not in page
        assert 'href="?sort=quiet&amp;show=hands"' in page

    def test_nobody_to_show_is_told(self, look, build):
        page = text(look("?show=hands"))

        assert "Nobody, just now." in page
        assert not names(page)


class TestQueries:
    @pytest.mark.parametrize("students", [1, 5, 30])
    def test_they_do_not_grow_with_the_class(
        self, students, client_of, db, django_assert_num_queries
    ):
        made = full_class(students)
        browser = client_of(made.shop.owner)
        url = reverse("class-detail", args=[made.pk])
        # session, user, class, students, machines, readings, marks, sign-offs, meeting
        with django_assert_num_queries(9):
            answered = browser.get(url)

        assert len(names(text(answered))) == students

    def test_one_more_where_builds_are_on_other_revisions(
        self, look, build, saw, shop_class, django_assert_num_queries
    ):
        shop_class.revision = RevisionFactory.create(
            plan=build.revision.plan, number=2, document=longer()
        )
        shop_class.save()
        with django_assert_num_queries(10):
            look()

    def test_an_idle_page_takes_five(self, look, build, django_assert_num_queries):
        token = since(text(look()))
        with django_assert_num_queries(5):
            look(f"?since={token}", **HTMX)


class TestWho:
    def test_a_student_never_sees_it(self, as_student, shop_class):
        url = reverse("class-detail", args=[shop_class.pk])

        assert as_student.get(url).status_code == 404

    def test_nor_an_assistant_of_another_class(
        self, client_of, other_class, shop_class
    ):
        url = reverse("class-detail", args=[shop_class.pk])

        assert client_of(help_in(other_class)).get(url).status_code == 404

    def test_it_takes_nothing(self, as_instructor, shop_class):
        url = reverse("class-detail", args=[shop_class.pk])

        assert as_instructor.post(url).status_code == 405
