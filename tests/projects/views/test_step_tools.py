"""What a step's page says of tools, exact numbers and a machine's own limits."""

import pytest
from django.urls import reverse

from tests.factories import POPLAR, MachineFactory, log, log_stock, sign_off
from tests.projects.views.step_plans import words


@pytest.fixture
def page(as_student, build):
    """Open a step: page("rip")."""
    return lambda key: as_student.get(reverse("build-step", args=[build.pk, key]))


def machine(shop_class, build, kind, **limits):
    made = MachineFactory.create(
        shop=shop_class.shop, kind=kind, name=kind, limits=limits
    )
    sign_off(build.student, made)
    return made


def first(answered):
    return answered.context["card"].settings[0]


def test_a_rabbet_says_its_passes_and_what_the_stop_does(page, build, shop_class):
    log_stock(build)
    machine(shop_class, build, "table_saw", kerf="1/8")
    answered = page("rabbet_seat_left")
    [setting] = first(answered).settings

    assert setting.tools.serves
    assert setting.tools.lines[0] == "The blade cuts 0.125 in."
    assert "The pass at the stop makes the wall" in words(answered)


def test_a_stack_and_a_chisel_stand_on_the_page(page, build, shop_class):
    log_stock(build)
    machine(shop_class, build, "table_saw", dado_blades="1/8, 1/8", dado_chippers="1/8")
    machine(shop_class, build, "mortiser", chisels="1/16, 3/8")

    assert "Stack both outer blades" in words(page("rabbet_seat_left"))
    assert "With the next narrower chisel, 0.062 in" in words(page("mortise_rail_left"))


def test_without_figures_nothing_is_said_of_tools(page, build, shop_class):
    log_stock(build)
    machine(shop_class, build, "table_saw")

    assert [s.tools for s in first(page("groove_back_left")).settings] == [None]


def test_numbers_set_by_caliper_stand_exactly_and_lead_to_their_sums(
    page, build, shop_class
):
    log(build, POPLAR, "0.742")
    machine(shop_class, build, "table_saw")
    answered = page("rabbet_seat_left")
    text = answered.content.decode()
    [setting] = first(answered).settings
    [fine] = [bit for line in setting.what for bit in line if bit.exactly]

    # 0.742 with the clearance of 0.005
    assert fine.exactly == "0.747 in"
    assert fine.shown.word == "scant"
    assert 'href="#sums-1-1"' in text
    assert 'id="sums-1-1"' in text
    assert [s.label for s in setting.sums] == ["Stop", "Height"]
    assert setting.sums[0].total == "0.7470"
    assert any("thickness" in line.name for line in setting.sums[0].lines)


def test_a_machine_that_takes_less_is_told_last_as_a_fact(page, build, shop_class):
    log_stock(build)
    machine(shop_class, build, "band_saw", throat="13 1/2")
    answered = page("rip")
    ways = answered.context["card"].settings
    band = next(way for way in ways if way.machine == "Band saw")

    assert ways[-1] is band
    beyond = [line for setting in band.settings for line in setting.beyond]
    assert "This band saw's throat is 13 1/2 in; the fence would stand at 14 in." in (
        beyond
    )
    assert all(not s.drawing and not s.tools for s in band.settings if s.beyond)


def test_another_band_saw_that_takes_it_says_nothing(page, build, shop_class):
    log_stock(build)
    machine(shop_class, build, "band_saw", throat="10")
    machine(shop_class, build, "band_saw", throat="20")

    ways = page("rip").context["card"].settings
    assert not any(way.is_beyond for way in ways)
