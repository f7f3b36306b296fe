"""The checks of a plan, and the limits of a shop."""

import pytest
from django.urls import reverse

from projects import actions, demo
from projects.models import Acceptance, Shop
from tests.factories import (
    MachineFactory,
    ShopFactory,
    as_bytes,
    plan_bytes,
    plan_data,
)


@pytest.fixture
def as_instructor(client, instructor):
    client.force_login(instructor)
    return client


@pytest.fixture
def stool(instructor):
    """The step stool, in which the checks find something."""
    return actions.publish_plan(instructor, plan_bytes("step_stool")).plan


@pytest.fixture
def url(stool):
    return reverse("plan-checks", args=[stool.pk])


SHOP = "/shop/"


class TestFindings:
    def test_each_says_what_where_why_and_its_source(self, as_instructor, url):
        page = as_instructor.get(url)
        lines = page.context["lines"]

        assert any(line.where == ("Top",) or "Top" in line.where for line in lines)
        for line in lines:
            assert line.what
            assert line.why
            assert line.source
            assert line.source in page.content.decode().replace("&#x27;", "'")

    def test_a_plan_without_faults_says_so(self, as_instructor, shop_class):
        bench = reverse("plan-checks", args=[shop_class.revision.plan_id])

        assert "find nothing" in as_instructor.get(bench).content.decode()

    def test_queries_are_few(self, as_instructor, url, django_assert_max_num_queries):
        with django_assert_max_num_queries(7):
            as_instructor.get(url)


class TestAccepting:
    def test_it_is_kept_with_who_and_why(self, as_instructor, instructor, stool, url):
        key = as_instructor.get(url).context["lines"][0].key
        as_instructor.post(
            url, {"key": key, "accepted": "1", "note": "cut from one long board"}
        )
        lines = as_instructor.get(url).context["lines"]
        (line,) = [line for line in lines if line.key == key]

        assert line.accepted
        assert line.note == "cut from one long board"
        assert line.by == instructor.name
        assert lines[-1] == line

    def test_it_can_be_opened_again_and_both_stay(self, as_instructor, stool, url):
        key = as_instructor.get(url).context["lines"][0].key
        as_instructor.post(url, {"key": key, "accepted": "1", "note": ""})
        as_instructor.post(url, {"key": key})

        assert not any(
            line.accepted for line in as_instructor.get(url).context["lines"]
        )
        assert [said.accepted for said in Acceptance.objects.all()] == [True, False]

    def test_it_survives_the_next_revision(self, as_instructor, instructor, stool, url):
        key = as_instructor.get(url).context["lines"][0].key
        as_instructor.post(url, {"key": key, "accepted": "1", "note": ""})
        actions.publish_plan(instructor, plan_bytes("step_stool"), plan=stool)

        lines = as_instructor.get(url).context["lines"]
        assert [line.key for line in lines if line.accepted] == [key]


class TestOrderOfSteps:
    @pytest.fixture
    def page(self, as_instructor, instructor, shop_class):
        """The checks of a bench that is glued up before its sides are ripped."""
        steps = [
            {"key": "glue", "title": "Glue up", "stage": "assembly"},
            {"key": "rip", "title": "Rip the sides", "stage": "mill"},
        ]
        plan = shop_class.revision.plan
        data = as_bytes(plan_data() | {"steps": steps})
        actions.publish_plan(instructor, data, plan=plan)
        return reverse("plan-checks", args=[plan.pk])

    def test_what_is_impossible_is_a_finding(self, as_instructor, page):
        lines = as_instructor.get(page).context["lines"]

        assert any(
            line.title == "Order of the steps" and "Rip the sides" in line.where
            for line in lines
        )
        assert len({line.key for line in lines}) == len(lines)

    def test_it_can_be_accepted_like_any_other(self, as_instructor, page):
        key = as_instructor.get(page).context["lines"][0].key
        as_instructor.post(page, {"key": key, "accepted": "1", "note": "on purpose"})
        lines = as_instructor.get(page).context["lines"]

        assert [line.note for line in lines if line.key == key] == ["on purpose"]
        assert lines[-1].key == key


class TestShop:
    def test_the_usual_limits_stand_beside_the_empty_fields(self, as_instructor):
        page = as_instructor.get(SHOP).content.decode()

        assert "Usual: 1/8 in" in page
        assert "common practice" in page

    def test_its_machines_decide_what_is_found(self, as_instructor, instructor, url):
        before = {line.key for line in as_instructor.get(url).context["lines"]}
        shop = ShopFactory(owner=instructor)
        MachineFactory(shop=shop, kind="jointer", limits={"shortest": "6"})
        MachineFactory(shop=shop, kind="table_saw", limits={"shortest": "150 mm"})
        after = {line.key for line in as_instructor.get(url).context["lines"]}

        assert {key for key in before if key.startswith("machine_size")} - after
        assert after < before

    def test_what_was_typed_comes_back(self, as_instructor):
        as_instructor.post(SHOP, {"lip_mm": "5/32", "shelf_load_n_per_mm": "40"})
        page = as_instructor.get(SHOP).content.decode()

        assert 'value="5/32"' in page
        assert 'value="40"' in page

    @pytest.mark.parametrize(
        ("field", "typed", "why"),
        [
            ("lip_mm", "thick", "is not a length"),
            ("web_mm", "0", "must be above 0"),
            ("slot_share", "150", "at most 1"),
            ("low_pct", "13", "must rise"),
            ("high_pct", "dry", "number"),
        ],
    )
    def test_bad_limits_are_told_and_kept_in_the_field(
        self, as_instructor, field, typed, why
    ):
        answered = as_instructor.post(SHOP, {field: typed})
        page = answered.content.decode()

        assert answered.status_code == 422
        assert why in page
        assert f'value="{typed}"' in page
        assert not Shop.objects.exclude(limits={}).exists()

    def test_each_instructor_has_one_of_their_own(
        self, as_instructor, other_instructor, client_of
    ):
        as_instructor.post(SHOP, {"lip_mm": "5/32"})

        assert (
            'value="5/32"' not in client_of(other_instructor).get(SHOP).content.decode()
        )


def test_every_demo_plan_has_its_checks_page(as_instructor, instructor):
    for name in (demo.CLASS_PLAN, *demo.OTHER_PLANS):
        plan = actions.publish_plan(instructor, plan_bytes(name)).plan
        assert (
            as_instructor.get(reverse("plan-checks", args=[plan.pk])).status_code == 200
        )
