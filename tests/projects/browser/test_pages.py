"""Every page on every device: accessible, no side scroll, big targets."""

import pytest
from playwright.sync_api import expect

from projects import actions, adapters
from tests.browser import LAPTOP
from tests.factories import (
    OPENING,
    POPLAR,
    SHELF_CUT,
    as_bytes,
    log,
    log_stock,
    plan_data,
)
from tests.projects.filled import fill, machine_of

LONG = "W" * 80
PHONE_WIDTH = 390

STUDENT = {
    "build": "/builds/{build}/",
    "chosen": "/builds/{build}/?log=cut:shelf.length",
    "sum": "/builds/{build}/sizes/back_rail/length/",
    "history": "/builds/{build}/readings/",
    "sheet": "/builds/{build}/cut-sheet/",
    "steps": "/builds/{build}/steps/",
    "step": "/builds/{build}/steps/{step}/",
    "machines": "/builds/{build}/machines/",
    "machine": "/builds/{build}/machines/{machine}/",
    "written check": "/builds/{build}/machines/{machine}/check/",
    "not there": "/builds/0/",
    "not for students": "/plans/",
}
INSTRUCTOR = {
    "classes": "/classes/",
    "class": "/classes/{shop_class}/",
    "new class": "/classes/new/",
    "plans": "/plans/",
    "plan": "/plans/{plan}/",
    "a student's build": "/builds/{build}/",
    "a student's steps": "/builds/{build}/steps/",
    "roster": "/classes/{shop_class}/roster/",
    "one student": "/classes/{shop_class}/roster/{student}/",
    "join cards": "/classes/{shop_class}/cards/",
    "sign-offs": "/classes/{shop_class}/sign-offs/",
    "sign off": "/builds/{build}/machines/{machine}/sign/",
    "meetings": "/classes/{shop_class}/meetings/",
    "staff": "/classes/{shop_class}/staff/",
    "settings": "/classes/{shop_class}/settings/",
    "delete": "/classes/{shop_class}/delete/",
    "near misses": "/classes/{shop_class}/near-misses/",
    "prints": "/classes/{shop_class}/prints/",
    "pack": "/classes/{shop_class}/pack/",
    "shop": "/shop/",
    "shop's machines": "/shop/machines/",
    "shop's machine": "/shop/machines/{machine}/",
    "requirements": "/shop/machines/{machine}/requirements/",
    "questions": "/shop/machines/{machine}/questions/",
    "signing PIN": "/account/pin/",
    "run sheets": "/classes/{shop_class}/run-sheets/",
    "run sheet": "/classes/{shop_class}/run-sheets/{machine}/",
    "meeting": "/meetings/{meeting}/",
    "miscut": "/builds/{build}/miscut/shelf/length/",
    "dry fit": "/builds/{build}/dry-fit/",
    "certainty": "/builds/{build}/certainty/",
}
NOBODY = {"sign in": "/sign-in/", "join": "/join/", "card": "/join/{code}/"}
PAGES = {**STUDENT, **INSTRUCTOR, **NOBODY}

# Everything that can be hit, apart from links that stand in running text.
SMALL = """
() => [...document.querySelectorAll("a, button, input, select, textarea, summary")]
  .filter((one) => one.checkVisibility() && one.type !== "hidden")
  .map((one) => [one, one.matches("[type=radio], [type=checkbox]")
                      ? one.closest("label") ?? one : one])
  .filter(([one, hit]) => getComputedStyle(hit).display !== "inline")
  .filter(([one]) => !one.matches(".skip, .vh"))
  .map(([one, hit]) => [one.outerHTML.slice(0, 120), hit.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([html, box]) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${html}`)
"""


@pytest.fixture
def busy(build):
    """A build in which something is in doubt, something gives and something is cut."""
    log_stock(build)
    log(build, POPLAR, "0.746")
    log(build, SHELF_CUT, "35", instrument="tape")
    log(build, OPENING, "34 5/8", "34 5/8", instrument="tape")
    fill(build, build.shop_class.shop.owner)
    actions.add_supplied_questions(machine_of(build.shop_class))
    return build


@pytest.fixture
def newcomer(shop_class):
    """Somebody on the roster who has a card and has not joined yet."""
    [person] = actions.new_people(["Ione Marchbanks"])
    person.save()
    actions.enrol(shop_class, person)
    return person


@pytest.fixture
def open_page(sign_in, busy, newcomer, student, instructor, expected_errors):
    """Open a page by its name, signed in as who sees it."""
    expected_errors += ["404", "403"]

    def opened(page, name):
        if name not in NOBODY:
            sign_in(page, student if name in STUDENT else instructor)
        page.goto(
            PAGES[name].format(
                build=busy.pk,
                shop_class=busy.shop_class_id,
                plan=busy.revision.plan_id,
                student=busy.student_id,
                machine=machine_of(busy.shop_class).pk,
                meeting=busy.shop_class.meetings.first().pk,
                step=adapters.steps_of(adapters.plan_of(busy.revision))[2].key,
                code=newcomer.username,
            )
        )
        return page

    return opened


@pytest.mark.parametrize("name", PAGES)
def test_a_page_holds_on_every_device(name, phone, open_page, axe):
    """One visit for all: accessible, nothing out at the side, big targets."""
    page = open_page(phone, name)

    assert not page.evaluate(SMALL)
    axe(page)
    # the laptop at 200 %, the phone, and the narrowest there is (WCAG 1.4.10)
    for width in (640, 390, 320):
        page.set_viewport_size({"width": width, "height": 400})
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, f"{wide} px wide on {width} px"
    page.set_viewport_size(LAPTOP["viewport"])
    page.emulate_media(color_scheme="dark")
    axe(page)


class TestFragments:
    def test_what_htmx_swaps_in_passes_too(
        self, phone, sign_in, student, build, axe, expected_errors
    ):
        expected_errors.append("422")
        page = sign_in(phone, student)
        page.goto(f"/builds/{build.pk}/")
        page.get_by_role("button", name="Decimal", exact=True).tap()
        page.locator("#length").fill("0.9")
        page.get_by_role("button", name="Keep it", exact=True).tap()
        expect(page.get_by_role("alert")).to_be_visible()
        page.locator("#part-seat .size-tap").first.tap()
        expect(page.locator("#part-seat .sum")).to_be_visible()
        axe(page)
        page.locator("#length").fill("wide")
        page.get_by_role("button", name="Keep the new reading").tap()
        expect(page.locator("#length-error")).to_be_visible()
        axe(page)

        assert not page.evaluate(SMALL)


class TestLongNames:
    def test_a_student_of_80_letters_fits(self, phone, sign_in, student, build):
        student.name = LONG
        student.save()
        page = sign_in(phone, student)
        for end in ("", "readings/", "cut-sheet/"):
            page.goto(f"/builds/{build.pk}/{end}")
            wide = page.evaluate("document.documentElement.scrollWidth")

            assert wide <= PHONE_WIDTH

    def test_a_plan_of_long_names_fits(self, phone, sign_in, instructor, student):
        data = plan_data() | {"title": LONG}
        for place in (data["stock"][0], data["parts"][0], *data["distances"]):
            place["name"] = LONG
        revision = actions.publish_plan(instructor, as_bytes(data))
        made = actions.open_class(
            instructor, title=LONG, revision=revision, students=[student]
        )
        page = sign_in(phone, instructor)
        build = made.builds.get().pk
        for url in (
            f"/plans/{revision.plan_id}/",
            "/plans/",
            "/classes/",
            f"/classes/{made.pk}/",
            f"/builds/{build}/",
            f"/builds/{build}/sizes/left_side/length/",
            f"/builds/{build}/cut-sheet/",
        ):
            page.goto(url)
            wide = page.evaluate("document.documentElement.scrollWidth")

            assert wide <= PHONE_WIDTH, url


class TestOnPaper:
    def test_the_sheet_prints_without_what_is_for_the_screen(self, laptop, open_page):
        page = open_page(laptop, "sheet")
        page.emulate_media(media="print")

        expect(page.get_by_role("link", name="PDF, Letter")).to_be_hidden()
        expect(page.get_by_role("button", name="Sign out")).to_be_hidden()
        expect(page.get_by_role("heading", name="Seat")).to_be_visible()
