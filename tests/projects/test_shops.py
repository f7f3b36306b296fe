"""From a shop and its machines to the limits that the checks take."""

import importlib

import pytest
from django.apps import apps
from django.utils import timezone

from projects.engine.checks.limits import PLANER
from projects.engine.units import read_length
from projects.models import Machine
from projects.shops import USUAL, limits_of
from tests.factories import InstructorFactory, MachineFactory, ShopFactory

MIGRATION = importlib.import_module("projects.migrations.0008_machines_of_shops")


@pytest.fixture
def shop(db):
    return ShopFactory()


def limits(shop):
    return limits_of(shop.owner)


class TestLimitsOf:
    def test_without_a_shop_they_are_the_usual_ones(self, db):
        assert limits_of(InstructorFactory.create()) == USUAL

    def test_a_shop_that_lists_no_machine_has_the_usual_ones(self, shop):
        assert limits(shop) == USUAL

    def test_once_one_is_listed_it_lacks_the_other_kinds(self, shop):
        MachineFactory(shop=shop, kind="planer")

        assert limits(shop).planer == USUAL.planer
        assert limits(shop).jointer is None
        assert limits(shop).table_saw is None

    def test_what_was_typed_overrules_the_usual_side_alone(self, shop):
        MachineFactory(shop=shop, kind="planer", limits={"shortest": "14"})
        planer = limits(shop).planer

        assert planer.shortest_mm.value == read_length("14").mm
        assert planer.shortest_mm.source == "set for this shop"
        assert planer.thinnest_mm == PLANER.thinnest_mm

    def test_of_two_the_more_generous_side_counts(self, shop):
        MachineFactory(
            shop=shop, kind="planer", limits={"shortest": "10", "thinnest": "1/2"}
        )
        MachineFactory(
            shop=shop, kind="planer", limits={"shortest": "14", "narrowest": "2"}
        )
        planer = limits(shop).planer

        assert planer.shortest_mm.value == read_length("10").mm
        assert planer.thinnest_mm == PLANER.thinnest_mm
        assert planer.narrowest_mm is None  # of the first nothing is said

    def test_a_retired_one_counts_no_more(self, shop):
        MachineFactory(shop=shop, kind="planer")
        MachineFactory(shop=shop, kind="jointer", retired_at=timezone.now())

        assert limits(shop).planer
        assert limits(shop).jointer is None

    def test_it_takes_two_queries(self, shop, django_assert_num_queries):
        MachineFactory(shop=shop, kind="planer")
        with django_assert_num_queries(2):
            limits_of(shop.owner)


class TestMachinesFromOldLimits:
    def test_what_was_typed_stands_at_the_machine(self, shop):
        shop.limits = {
            "jointer_shortest_mm": "14",
            "planer_missing": True,
            "lip_mm": "5/32",
        }
        shop.save()
        MIGRATION.make_machines(apps, None)
        shop.refresh_from_db()
        made = {machine.kind: machine.limits for machine in shop.machines.all()}

        assert made == {"jointer": {"shortest": "14"}, "table_saw": {}}
        assert shop.limits == {"lip_mm": "5/32"}

    def test_the_checks_take_the_same_as_before(self, shop):
        shop.limits = {"planer_missing": True, "table_saw_thinnest_mm": "6 mm"}
        shop.save()
        MIGRATION.make_machines(apps, None)

        assert limits(shop).planer is None
        assert limits(shop).jointer == USUAL.jointer
        assert limits(shop).table_saw.thinnest_mm.value == 6

    def test_a_shop_that_said_nothing_lists_none(self, shop):
        MIGRATION.make_machines(apps, None)

        assert not Machine.objects.exists()
