"""An instructor writes the steps of a plan in a real browser."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from projects import drafting


@pytest.fixture
def draft(shop_class):
    return drafting.edit(shop_class.revision.plan, shop_class.revision.plan.owner)


@pytest.fixture
def page(instructor_laptop, draft):
    """The draft on the instructor's laptop, with the steps its joints suggest."""
    instructor_laptop.goto(reverse("draft", args=[draft.plan_id]))
    instructor_laptop.locator("#propose").press("Enter")
    expect(instructor_laptop.locator("#propose")).to_contain_text("Propose anew")
    return instructor_laptop


def lines(page):
    return page.locator(".entries-steps > li")


def test_a_step_is_added_and_moved_by_keyboard(page, axe):
    before = lines(page).count()
    page.locator("#open-steps-new").press("Enter")
    expect(page.locator("#f-title")).to_be_focused()
    page.keyboard.type("Sign it")
    page.keyboard.press("Enter")
    expect(lines(page)).to_have_count(before + 1)
    expect(page.locator("#open-steps-sign_it")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#f-title")).to_have_value("Sign it")
    for summary in page.locator("#draft-form summary").all():
        summary.click()
    # scrolled, what lies behind the bar with undo is too small for axe
    page.evaluate("scrollTo(0, 0)")
    axe(page)
    page.get_by_role("button", name="Move up").press("Enter")
    expect(lines(page).nth(before - 1).locator("#f-title")).to_be_visible()


def test_moving_on_is_one_more_key(page):
    last = lines(page).count() - 1
    line = lines(page).nth(last - 3).locator(".entry").get_attribute("id")
    page.locator(f"#{line}").press("Enter")
    page.locator("#move-down").press("Enter")
    for place in (last - 2, last - 1):
        expect(lines(page).nth(place).locator("#f-title")).to_be_visible()
        expect(page.locator("#move-down")).to_be_focused()
        page.keyboard.press("Enter")
    expect(lines(page).nth(last).locator("#f-title")).to_be_visible()
    expect(page.locator("#move-up")).to_be_focused()
    page.get_by_role("link", name="Close").press("Enter")
    expect(page.locator(f"#{line}")).to_be_focused()


def test_a_step_is_dragged_to_another_place(page):
    first = lines(page).first.locator(".entry").get_attribute("id")
    lines(page).first.drag_to(lines(page).nth(2), target_position={"x": 40, "y": 4})
    expect(lines(page).nth(1).locator(".entry")).to_have_id(first)
    page.get_by_role("button", name="Undo: ").click()
    expect(lines(page).first.locator(".entry")).to_have_id(first)


def test_nothing_runs_over_the_side(page):
    page.locator("#open-steps-new").click()
    expect(page.locator("#f-title")).to_be_focused()
    for summary in page.locator("#draft-form summary").all():
        summary.click()
    for width in (820, 390, 320):
        page.set_viewport_size({"width": width, "height": 800})

        assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        "[...document.querySelectorAll('#draft-form button, #draft-form select, "
        "#draft-form textarea, #draft-form summary, #draft-form input:not([type="
        "hidden]):not([type=checkbox]), #draft-form label:has(input)')].filter(e => "
        "e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML)"
    )

    assert not small
