"""The overview stays open on the instructor's laptop while the class works."""

import pytest
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from projects.models import Hand, StepMark
from tests.browser import LAPTOP, watched_page
from tests.full_class import full_class

TICK = 5_100  # a little over the time between two times it asks [ms]


@pytest.fixture
def crowd(db):
    """Thirty students in the middle of their term."""
    return full_class(30)


@pytest.fixture
def opened(laptop, sign_in, crowd):
    """Show the overview on the instructor's laptop, with the clock held."""
    laptop.clock.install()
    sign_in(laptop, crowd.shop.owner)
    laptop.goto(reverse("class-detail", args=[crowd.pk]))
    return laptop


def wait(page):
    """Let the time pass until the page has asked again, and a little more to settle.

    Return the status it was answered with.
    """
    with page.expect_response("**/classes/*/?*since=*") as answered:
        page.clock.run_for(TICK)
    answered.value.finished()
    page.clock.run_for(100)
    return answered.value.status


def raise_hand(build, note):
    Hand.objects.create(
        build=build, raised=True, note=note, at=timezone.now(), by=build.student
    )


def test_it_follows_the_class_and_leaves_the_reader_where_they_are(opened, crowd):
    build = crowd.builds.order_by("pk")[29]
    link = opened.locator(f"#n{crowd.builds.order_by('pk')[12].pk}")
    link.focus()
    opened.evaluate("scrollTo(0, 150)")
    opened.evaluate("window.kept = true")

    StepMark.objects.create(
        build=build, step="rough_cut", title="Cut", done=False, at=timezone.now(),
        by=build.student,
    )  # fmt: skip
    row = opened.locator(f"#s{build.pk}")
    expect(row).not_to_contain_text("Cut the 3/4 in yellow-poplar to rough length")
    wait(opened)

    expect(row).to_contain_text("Cut the 3/4 in yellow-poplar to rough length")
    expect(link).to_be_focused()
    assert opened.evaluate("scrollY") == 150
    assert opened.evaluate("window.kept")  # the page was not loaded anew


def test_an_idle_page_touches_nothing(opened, crowd):
    opened.evaluate("document.querySelector('#overview').kept = true")

    assert [wait(opened), wait(opened)] == [204, 204]
    assert opened.evaluate("document.querySelector('#overview').kept")


def test_a_lost_connection_is_said_once_and_passes(opened, crowd, expected_errors):
    expected_errors += ["ERR_INTERNET_DISCONNECTED", "htmx:"]
    line = opened.locator("#poll-lost")
    opened.context.set_offline(True)
    opened.clock.run_for(TICK)
    expect(line).to_have_text("No connection just now; what you see may be old.")
    opened.clock.run_for(TICK)
    expect(opened.get_by_role("alert")).to_have_count(0)

    opened.context.set_offline(False)
    raise_hand(crowd.builds.order_by("pk")[0], "Come, please")
    wait(opened)
    expect(line).to_be_empty()
    expect(opened.locator("#overview")).to_contain_text("Come, please")


def test_who_was_signed_out_elsewhere_is_asked_to_sign_in(opened):
    opened.context.clear_cookies()
    opened.clock.run_for(TICK)

    expect(opened.get_by_role("heading", name="Sign in")).to_be_visible()


def test_thirty_rows_fit_a_phone(phone, sign_in, crowd, axe):
    sign_in(phone, crowd.shop.owner)
    phone.goto(reverse("class-detail", args=[crowd.pk]))

    wide = phone.evaluate("document.documentElement.scrollWidth")
    low = phone.evaluate(
        "[...document.querySelectorAll('main a')]"
        ".map(a => [a.textContent, a.getBoundingClientRect().height])"
        ".filter(([, height]) => height < 47.5)"
    )
    assert wide == 390
    assert not low
    axe(phone)


def test_thirty_rows_on_a_laptop_are_accessible(opened, axe):
    axe(opened)


def test_filters_work_without_javascript(browser, live_server, sign_in, crowd):
    device = {**LAPTOP, "java_script_enabled": False}
    for page in watched_page(browser, live_server.url, device, ()):
        sign_in(page, crowd.shop.owner)
        page.goto(reverse("class-detail", args=[crowd.pk]))
        page.get_by_role("link", name="Hands up").click()
        expect(page.locator("#overview tr[id]")).to_have_count(3)
        page.get_by_role("link", name="Name", exact=True).click()
        expect(page.locator("#overview tr[id]")).to_have_count(3)


def test_a_run_sheet_says_a_lost_connection_once_too(
    laptop, sign_in, crowd, expected_errors
):
    expected_errors += ["ERR_INTERNET_DISCONNECTED", "htmx:"]
    page = sign_in(laptop, crowd.shop.owner)
    page.clock.install()
    machine = crowd.shop.machines.first()
    page.goto(reverse("run-sheet", args=[crowd.pk, machine.pk]))
    page.context.set_offline(True)
    for _ in range(2):
        page.clock.run_for(12_000)

    expect(page.locator("#poll-lost")).to_contain_text("No connection just now")
    expect(page.get_by_role("alert")).to_have_count(0)
