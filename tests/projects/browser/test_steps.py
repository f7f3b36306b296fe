"""A student steps through a build on a phone."""

import pytest
from playwright.sync_api import expect

from tests.browser import settled
from tests.factories import log_stock


def heading(page):
    return page.locator("#step-now-what")


def done_button(page):
    return page.get_by_role("button", name="Mark as done")


@pytest.fixture
def my_steps(student_phone, build):
    student_phone.goto(f"/builds/{build.pk}/steps/")
    return student_phone


class TestTicking:
    def test_it_shows_the_next_step_in_its_place(self, my_steps, build):
        expect(heading(my_steps)).to_contain_text("rough length")
        my_steps.evaluate("window.marked = true")
        done_button(my_steps).scroll_into_view_if_needed()
        before = my_steps.evaluate("scrollY")
        with settled(my_steps):
            done_button(my_steps).tap()

        expect(heading(my_steps)).to_contain_text("Joint one face")
        expect(my_steps.locator("#said")).to_contain_text("Done: Cut the 3/4 in")
        assert my_steps.evaluate("scrollY") == before
        assert my_steps.evaluate("window.marked")  # it is the same page
        assert build.marks.get().machine == "hand_tools"

    def test_two_taps_at_once_tick_one_step(self, my_steps, build):
        done_button(my_steps).dblclick()
        expect(heading(my_steps)).to_contain_text("Joint one face")

        assert build.marks.count() == 1

    def test_what_was_ticked_by_mistake_is_moved_back(self, my_steps, build):
        with settled(my_steps):
            done_button(my_steps).tap()
        my_steps.get_by_text("Move back to not done").tap()
        my_steps.get_by_label("What happened?").fill("wrong board")
        with settled(my_steps):
            my_steps.get_by_role("button", name="Move back", exact=True).tap()

        expect(heading(my_steps)).to_contain_text("rough length")
        assert [m.note for m in build.marks.all()] == ["", "wrong board"]

    def test_at_the_bench_it_leads_on(self, my_steps, build):
        my_steps.goto(f"/builds/{build.pk}/steps/rough_cut/")
        with settled(my_steps):
            done_button(my_steps).tap()

        expect(my_steps.get_by_role("link", name="Go on:")).to_be_focused()
        my_steps.get_by_role("link", name="Go on:").tap()
        expect(my_steps.locator("h1")).to_contain_text("Joint one face")

    def test_without_javascript_too(self, plain_phone, build):
        plain_phone.goto(f"/builds/{build.pk}/steps/")
        done_button(plain_phone).tap()
        expect(heading(plain_phone)).to_contain_text("Joint one face")
        plain_phone.get_by_text("Raise a hand").tap()
        plain_phone.get_by_role("button", name="A sign-off").tap()
        expect(plain_phone.locator("#hand")).to_contain_text("Your hand is up")
        plain_phone.get_by_role("button", name="Take it down").tap()
        expect(plain_phone.get_by_text("Raise a hand")).to_be_visible()

        assert build.hands.count() == 2


class TestAtTheBench:
    def test_arrow_keys_and_the_big_links_turn_the_page(self, my_steps, build):
        my_steps.goto(f"/builds/{build.pk}/steps/flatten/")
        my_steps.keyboard.press("ArrowRight")
        expect(my_steps.locator("h1")).to_contain_text("Plane the 3/4 in")
        my_steps.keyboard.press("ArrowLeft")
        expect(my_steps.locator("h1")).to_contain_text("Joint one face")
        my_steps.get_by_role("link", name="Step before").tap()
        expect(my_steps.locator("h1")).to_contain_text("rough length")

    def test_an_arrow_in_a_field_turns_nothing(self, my_steps, build):
        my_steps.goto(f"/builds/{build.pk}/steps/flatten/")
        my_steps.get_by_text("Raise a hand").tap()
        my_steps.get_by_label("What do you need?").press("ArrowRight")

        expect(my_steps.locator("h1")).to_contain_text("Joint one face")

    def test_the_numbers_can_be_read_standing(self, my_steps, build):
        log_stock(build)
        my_steps.goto(f"/builds/{build.pk}/steps/dado_shelf_left/")
        sizes = my_steps.locator(".setting-what .size, .numbers .size")
        heights = sizes.evaluate_all(
            "all => all.map(one => parseFloat(getComputedStyle(one).fontSize))"
        )

        assert heights
        assert min(heights) >= 28

    def test_the_controls_are_big_enough_for_a_thumb(self, my_steps, build):
        my_steps.goto(f"/builds/{build.pk}/steps/rough_cut/")
        reach = my_steps.locator(".reach a, .reach summary, .tick button")
        heights = reach.evaluate_all(
            "all => all.map(one => one.getBoundingClientRect().height)"
        )

        assert len(heights) == 3
        assert min(heights) >= 48


class TestHand:
    def test_raised_and_taken_down_in_place(self, my_steps, build):
        my_steps.get_by_text("Raise a hand").tap()
        with settled(my_steps):
            my_steps.get_by_role("button", name="Check my setup").tap()
        expect(my_steps.locator("#hand")).to_contain_text("“Check my setup”")
        with settled(my_steps):
            my_steps.get_by_role("button", name="Take it down").tap()

        expect(my_steps.get_by_text("Raise a hand")).to_be_visible()
        assert [h.raised for h in build.hands.all()] == [True, False]


class TestForEverybody:
    @pytest.mark.parametrize("page", ["", "rip/", "rough_cut/"])
    def test_nothing_is_wrong_with_accessibility(self, my_steps, build, axe, page):
        my_steps.goto(f"/builds/{build.pk}/steps/{page}")
        # what lies under the bar is scrolled out from there, which axe can't know
        my_steps.evaluate("document.querySelector('.reach').style.position = 'static'")

        for scheme in ("light", "dark"):
            my_steps.emulate_media(color_scheme=scheme)
            axe(my_steps)

    @pytest.mark.parametrize("page", ["", "rip/"])
    def test_nothing_scrolls_sideways(self, my_steps, build, page):
        log_stock(build)
        my_steps.goto(f"/builds/{build.pk}/steps/{page}")
        for width in (390, 320, 195):  # the last is a phone at 200 %
            my_steps.set_viewport_size({"width": width, "height": 844})

            assert my_steps.evaluate("document.documentElement.scrollWidth") <= width
