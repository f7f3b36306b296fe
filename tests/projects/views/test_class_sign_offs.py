"""A class's sign-offs in one look."""

from datetime import date

import pytest
from django.urls import reverse

from tests.factories import MachineFactory, enrol, sign_off
from tests.signing import Kind, ask, record


@pytest.fixture
def saw(shop_class):
    return MachineFactory.create(shop=shop_class.shop)


@pytest.fixture
def url(build, saw):
    return reverse("sign-off", args=[build.pk, saw.pk])


def page_of(answered):
    return " ".join(answered.content.decode().split())


@pytest.fixture
def of_class(shop_class):
    return reverse("class-sign-offs", args=[shop_class.pk])


def test_students_by_machines(of_class, as_instructor, build, saw, url):
    planer = MachineFactory.create(shop=saw.shop, kind="planer")
    sign_off(build.student, planer, lapses_on=date(2999, 3, 3))
    seen, _cut = ask(saw, Kind.DEMONSTRATION, Kind.SUPERVISED_CUT)
    record(build.student, seen)
    page = page_of(as_instructor.get(of_class))

    assert 'until <span class="day">3 Mar 2999<' in page
    assert "not yet, 1 of 2" in page
    assert f'href="{url}"' in page


def test_who_may_not_sign_is_led_to_the_record(
    of_class, client_of, assistant, build, saw, url
):
    page = page_of(client_of(assistant).get(of_class))

    assert url not in page
    assert reverse("build-machine", args=[build.pk, saw.pk]) in page


def test_one_machine_alone(of_class, as_instructor, build, saw):
    MachineFactory.create(shop=saw.shop, kind="planer")
    page = page_of(as_instructor.get(of_class, {"machine": saw.pk}))
    table = page.partition("<table")[2]

    assert "Table saw" in table
    assert "Planer" not in table


@pytest.mark.parametrize("wanted", ["x", "0", "99999999999999999999"])
def test_a_machine_nobody_has_shows_all(wanted, of_class, as_instructor, saw):
    page = page_of(as_instructor.get(of_class, {"machine": wanted}))

    assert "Table saw" in page.partition("<table")[2]


def test_a_shop_without_machines(of_class, as_instructor):
    assert reverse("machine-list") in page_of(as_instructor.get(of_class))


def test_as_many_queries_for_any_class(
    of_class, as_instructor, shop_class, saw, django_assert_num_queries
):
    planer = MachineFactory.create(shop=saw.shop, kind="planer")
    (asked,) = ask(planer, Kind.AGE)
    for _ in range(6):
        student = enrol(shop_class).student
        record(student, asked)
        sign_off(student, saw)
    # session, user, class, machines, builds; requirements, records, sign-offs
    with django_assert_num_queries(8):
        as_instructor.get(of_class)
