"""What a run sheet leaves out as more than the machine takes, and what it repeats."""

import pytest
from django.urls import reverse

from tests.factories import MachineFactory, enrol, log_stock, sign_off
from tests.projects.views.overview.things import text
from tests.projects.views.step_plans import mark
from tests.projects.views.test_run_sheets import left_out, plain, ready, setups


@pytest.fixture
def band_saw(shop_class):
    return MachineFactory.create(
        shop=shop_class.shop,
        kind="band_saw",
        name="Band saw",
        limits={"throat": "13 1/2"},
    )


def to_rip(build, machine):
    log_stock(build)
    sign_off(build.student, machine)
    for key in ("rough_cut", "flatten", "plane_poplar34", "log_thickness"):
        mark(build, key)


def test_a_number_beyond_the_machine_is_a_fact_and_no_setup(
    as_instructor, shop_class, build, band_saw
):
    to_rip(build, band_saw)
    url = reverse("run-sheet", args=[shop_class.pk, band_saw.pk])
    page = text(as_instructor.get(url))
    beyond = "This band saw's throat is 13 1/2 in; the fence would stand at 14 in."

    assert "More than this machine takes" in left_out(page)
    assert beyond in left_out(page).replace("&#x27;", "'")
    blocks = [plain(block) for block in setups(page)]
    assert blocks
    assert not any("Fence 14" in block for block in blocks)

    band_saw.limits = {"throat": "40"}
    band_saw.save()
    page = text(as_instructor.get(url))
    assert "More than this machine takes" not in page
    assert any("Fence 14" in plain(block) for block in setups(page))


def test_a_number_that_is_nothing_to_set_parts_no_laying_lines(
    as_instructor, shop_class, build
):
    saw = MachineFactory.create(shop=shop_class.shop, limits={"kerf": "1/8"})
    ready(build, saw, "0.240")
    ready(enrol(shop_class, name="Ann"), saw, "0.243")
    url = reverse("run-sheet", args=[shop_class.pk, saw.pk])
    shared = [
        block
        for block in as_instructor.get(url).context["page"].blocks
        if len(block.rows) == 2 and block.title == "Groove"
    ]

    assert shared
    for block in shared:
        lines = [line for lay in block.lays for line in lay.lines]
        assert all(lay.who == () for lay in block.lays)
        assert any("It may stop" in line for line in lines)
        assert len(lines) == len({line.partition(":")[0] for line in lines})


def test_passes_say_where_the_fence_goes(as_instructor, shop_class, build):
    saw = MachineFactory.create(shop=shop_class.shop, limits={"kerf": "1/8"})
    ready(build, saw, "0.240")
    url = reverse("run-sheet", args=[shop_class.pk, saw.pk])
    page = as_instructor.get(url).context["page"]
    block = next(block for block in page.blocks if block.title == "Groove")

    assert any(
        line.startswith("Fence ") and " for the last." in line
        for line in block.way.lines
    )
