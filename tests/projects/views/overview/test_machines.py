"""The machine that is next: where a student stands with it."""

from datetime import date

import pytest
from django.urls import reverse

from projects.models import (
    ShopClass,
    SignOff,
)
from tests.factories import (
    MachineFactory,
    RevisionFactory,
    as_bytes,
    log_stock,
    plan_data,
    sign_off,
)
from tests.projects.views.overview.things import AT, mark, row, steps_of, text


class TestTheMachineThatIsNext:
    @pytest.fixture
    def at_the_saw(self, build):
        """Everything is done before the step at the table saw."""
        log_stock(build)
        for step in steps_of(build)[:4]:
            mark(build, step.key)
        return build

    def test_whoever_lacks_the_sign_off_is_led_to_it(self, look, at_the_saw, saw):
        page = text(look())
        url = reverse("sign-off", args=[at_the_saw.pk, saw.pk])

        assert "Table saw: not signed off" in row(page, at_the_saw)
        assert "meanwhile: Hand tools" in row(page, at_the_saw)
        assert f'href="{url}"' in page
        assert "1 waits for a sign-off" in page

    def test_whoever_is_signed_off_needs_nothing(self, look, at_the_saw, saw):
        sign_off(at_the_saw.student, saw)

        assert "Table saw, signed off" in row(text(look()), at_the_saw)

    def test_a_lapsed_sign_off_is_told_with_its_day(self, look, at_the_saw, saw):
        sign_off(at_the_saw.student, saw, lapses_on=date(2026, 3, 11))

        told = row(text(look()), at_the_saw)
        assert "Table saw: sign-off lapsed after 11 Mar 2026" in told

    def test_it_counts_through_the_day_it_lapses_on(self, look, at_the_saw, saw):
        sign_off(at_the_saw.student, saw, lapses_on=date(2026, 3, 12))

        assert "Table saw, signed off" in row(text(look()), at_the_saw)

    def test_a_withdrawn_one_is_told(self, look, at_the_saw, saw):
        sign_off(at_the_saw.student, saw)
        sign_off(at_the_saw.student, saw, act=SignOff.Act.WITHDRAWN)

        assert "Table saw: sign-off withdrawn" in row(text(look()), at_the_saw)

    def test_of_two_machines_of_a_kind_one_is_enough(self, look, at_the_saw, saw):
        second = MachineFactory.create(shop=saw.shop, name="Saw at the door")
        sign_off(at_the_saw.student, second)

        assert "Saw at the door, signed off" in row(text(look()), at_the_saw)

    def test_who_may_not_sign_is_led_nowhere(
        self, clock, at_the_saw, saw, client_of, assistant
    ):
        url = reverse("class-detail", args=[at_the_saw.shop_class_id])
        page = text(client_of(assistant).get(url))

        assert "Table saw: not signed off" in row(page, at_the_saw)
        assert "/sign/" not in page

    def test_nobody_is_in_an_archived_class(self, look, at_the_saw, saw):
        ShopClass.objects.update(archived_at=AT)

        assert "/sign/" not in text(look())

    def test_a_shop_without_machines_is_told_what_to_do(self, look, build):
        assert reverse("machine-list") in text(look())

    def test_a_blocked_step_is_named_where_a_later_one_is_in_hand(
        self, look, at_the_saw, saw
    ):
        hand_tools, router = (
            MachineFactory.create(shop=saw.shop, kind=kind)
            for kind in ("hand_tools", "router")
        )
        for step in steps_of(at_the_saw)[4:6]:
            mark(at_the_saw, step.key)
        sign_off(at_the_saw.student, router)
        told = row(text(look()), at_the_saw)

        assert "8 Cut the stopped dadoes" in told
        assert "Router, signed off" in told
        assert "Step 7: Table saw: not signed off" in told
        assert hand_tools.name not in told

    def test_a_step_that_no_machine_here_can_do_is_told(self, look, at_the_saw, saw):
        data = plan_data()
        data["steps"] = [
            {"key": "bore", "title": "Bore", "stage": "joinery", "machine": "mortiser"}
        ]
        at_the_saw.revision = RevisionFactory.create(
            plan=at_the_saw.revision.plan, number=2, document=as_bytes(data).decode()
        )
        at_the_saw.save()
        page = text(look())

        assert "not in this shop: Mortiser" in row(page, at_the_saw)
        assert "1 lacks a machine" in page
