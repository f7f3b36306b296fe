"""A student logs readings on a phone."""

import re

import pytest
from playwright.sync_api import expect

from tests.factories import POPLAR, log


def size(page, part="seat", nth=0):
    """Return one size of a part as it is seen."""
    return page.locator(f"#part-{part} .size-tap .size").nth(nth)


def tap(page, keys):
    for key in keys:
        page.locator(f'.keypad [data-digit="{key}"]').tap()


def keep(page):
    return page.get_by_role("button", name="Keep it", exact=True)


def error(page):
    return page.locator("#length-error")


@pytest.fixture
def my_build(student_phone, build):
    student_phone.goto(f"/builds/{build.pk}/")
    return student_phone


class TestTheKeypad:
    def test_three_taps_a_reading(self, my_build):
        expect(size(my_build)).to_have_text("35 1/4")
        my_build.get_by_role("button", name="Decimal", exact=True).tap()
        for place, digits in enumerate(("742", "744", "741"), start=1):
            expect(my_build.locator("#next")).to_contain_text(f"place {place} of 3")
            tap(my_build, digits)
            expect(my_build.locator("#length")).to_have_value(f"0.{digits} in")
            keep(my_build).tap()

        expect(my_build.locator("#next-what")).to_have_text("Measure 1/4 in plywood")
        expect(size(my_build)).to_have_text("35 1/4 full")
        # (0.742 + 0.744 + 0.741) / 3
        expect(size(my_build, nth=2)).to_have_text("3/4 scant")

    def test_the_page_stays_where_it_is(self, my_build):
        my_build.get_by_role("button", name="Decimal", exact=True).tap()
        tap(my_build, "742")
        keep(my_build).scroll_into_view_if_needed()
        my_build.evaluate("window.marked = true")
        before = my_build.evaluate("[scrollX, scrollY]")
        keep(my_build).tap()
        expect(my_build.locator("#next")).to_contain_text("place 2 of 3")

        assert my_build.evaluate("[scrollX, scrollY]") == before
        assert my_build.evaluate("window.marked")  # and it is the same page

    def test_a_whole_and_a_fraction(self, my_build, build):
        my_build.goto(f"/builds/{build.pk}/?log=cut:shelf.length")
        my_build.get_by_role("button", name="Fraction", exact=True).tap()
        tap(my_build, "35")
        my_build.locator('.keypad [data-fraction="1/4"]').tap()

        expect(my_build.locator("#length")).to_have_value("35 1/4 in")
        expect(my_build.locator("#length-read")).to_contain_text("895.4")
        keep(my_build).tap()
        expect(my_build.locator("#part-shelf")).to_contain_text("cut")

    def test_millimetres(self, my_build, build):
        my_build.get_by_role("button", name="mm", exact=True).tap()
        tap(my_build, "19")
        keep(my_build).tap()
        expect(my_build.locator("#next")).to_contain_text("So far: 19 mm")

        assert build.readings.get().unit == "mm"

    def test_keys_can_be_taken_back(self, my_build):
        field = my_build.locator("#length")
        my_build.get_by_role("button", name="Decimal", exact=True).tap()
        tap(my_build, "749")
        my_build.get_by_role("button", name="take back").tap()
        expect(field).to_have_value("0.74 in")
        my_build.get_by_role("button", name="Clear").tap()
        expect(field).to_have_value("")

    def test_what_is_typed_is_read_back(self, my_build):
        my_build.locator("#length").fill("23 5/")
        expect(my_build.locator("#length-read")).to_contain_text("Not read yet:")
        my_build.locator("#length").fill("23 5/8")
        expect(my_build.locator("#length-read")).to_contain_text("600.1")


class TestASum:
    def test_tapping_a_size_opens_and_closes_it(self, my_build):
        tapped = my_build.locator("#part-seat .size-tap").first
        tapped.tap()
        sum_of_it = my_build.locator("#part-seat .sum")
        expect(sum_of_it).to_contain_text("Overall width")
        expect(sum_of_it).to_contain_text("= 35 1/4")
        expect(my_build.locator("#part-seat .size-tap").first).to_have_attribute(
            "aria-expanded", "true"
        )
        my_build.locator("#part-seat .size-tap").first.tap()
        expect(sum_of_it).to_have_count(0)

    def test_the_url_and_the_page_stay(self, my_build, build):
        my_build.locator("#part-shelf .size-tap").nth(1).tap()
        expect(my_build.locator("#part-shelf .sum")).to_be_visible()

        assert my_build.url.endswith(f"/builds/{build.pk}/")


class TestSecondLook:
    @pytest.fixture
    def asked(self, my_build, expected_errors):
        expected_errors.append("422")
        my_build.locator("#length").fill("0.9")
        keep(my_build).tap()
        expect(my_build.get_by_role("alert")).to_contain_text("Look again?")
        return my_build

    def test_it_can_be_kept(self, asked, build):
        asked.get_by_role("button", name="Keep 0.9 all the same").tap()
        expect(asked.locator("#next")).to_contain_text("place 2 of 3")

        assert build.readings.get().kept_after_second_look

    def test_it_can_be_corrected(self, asked, build):
        asked.locator("#length").fill("0.742")
        asked.get_by_role("button", name="Keep the new reading").tap()
        expect(asked.locator("#next")).to_contain_text("place 2 of 3")

        assert not build.readings.get().kept_after_second_look

    def test_enter_keeps_nothing_unseen(self, asked, build):
        asked.locator("#length").fill("0.95")
        asked.locator("#length").press("Enter")
        expect(asked.get_by_role("button", name="Keep 0.95")).to_be_visible()

        assert not build.readings.exists()


class TestWhatCannotBeRead:
    def test_it_stays_in_the_field_and_is_told(self, my_build, expected_errors, build):
        expected_errors.append("422")
        my_build.locator("#length").fill("three quarters")
        my_build.get_by_label("Tape", exact=True).check()
        keep(my_build).tap()

        expect(error(my_build)).to_contain_text("three quarters")
        expect(my_build.locator("#length")).to_have_value("three quarters")
        expect(my_build.get_by_label("Tape", exact=True)).to_be_checked()
        # the keys are still there
        expect(my_build.locator(".keypad")).to_be_visible()
        my_build.locator("#length").fill("3/4")
        keep(my_build).tap()
        expect(my_build.locator("#next")).to_contain_text("place 2 of 3")
        assert build.readings.get().instrument == "tape"


class TestNoConnection:
    def test_what_was_typed_stays_until_it_is_back(
        self, my_build, expected_errors, build
    ):
        expected_errors += ["ERR_INTERNET_DISCONNECTED", "htmx:"]
        my_build.locator("#length").fill("0.742")
        expect(my_build.locator("#length-read")).to_contain_text("scant")
        my_build.context.set_offline(True)
        keep(my_build).tap()
        lost = my_build.locator("#next [data-net]")
        expect(lost).to_contain_text("Not sent: no connection.")
        expect(my_build.locator("#length")).to_have_value("0.742")
        assert not build.readings.exists()

        my_build.context.set_offline(False)
        keep(my_build).tap()
        expect(my_build.locator("#next")).to_contain_text("place 2 of 3")
        expect(lost).to_have_count(0)
        assert build.readings.count() == 1

    def test_a_size_that_cannot_be_opened_says_so(self, my_build, expected_errors):
        expected_errors += ["ERR_INTERNET_DISCONNECTED", "htmx:"]
        my_build.context.set_offline(True)
        my_build.locator("#part-seat .size-tap").first.tap()

        expect(my_build.locator("#part-seat")).to_contain_text("No connection just now")

    def test_a_server_that_breaks_is_told(self, my_build, expected_errors):
        expected_errors += ["500", "htmx:"]
        my_build.route("**/readings/", lambda route: route.fulfill(status=500))
        my_build.locator("#length").fill("0.742")
        keep(my_build).tap()

        expect(my_build.locator("#next")).to_contain_text("Not done")
        expect(my_build.locator("#length")).to_have_value("0.742")


class TestWithoutJavaScript:
    def test_the_same_flow(self, plain_phone, build, expected_errors):
        expected_errors.append("422")
        page = plain_phone
        page.goto(f"/builds/{build.pk}/")
        expect(page.locator(".keypad")).to_be_hidden()
        page.locator("#length").fill("0.9")
        keep(page).tap()
        expect(page.get_by_role("alert")).to_contain_text("Look again?")
        page.locator("#length").fill("wide")
        page.get_by_role("button", name="Keep the new reading").tap()
        expect(error(page)).to_contain_text("wide")
        expect(page.locator("#length")).to_have_value("wide")
        page.locator("#length").fill("0.742")
        keep(page).tap()
        expect(page.locator("#next")).to_contain_text("place 2 of 3")
        expect(size(page)).to_have_text("35 1/4 full")

        page.locator("#part-seat .size-tap").first.tap()
        expect(page.locator("#part-seat .sum")).to_contain_text("Overall width")
        page.locator("#part-seat .size-tap").first.tap()
        expect(page.locator(".sum")).to_have_count(0)
        page.get_by_role("link", name="Every reading").tap()
        page.get_by_role("button", name=re.compile("Set aside")).tap()
        expect(page.locator("tbody tr").first).to_contain_text("set aside")
        assert build.readings.count() == 2

    def test_sizes_can_be_shown_in_millimetres(self, plain_phone, build):
        plain_phone.goto(f"/builds/{build.pk}/")
        plain_phone.get_by_label("Show sizes").select_option("mm")
        plain_phone.get_by_role("button", name="Show", exact=True).tap()

        expect(size(plain_phone)).to_have_text("895.4 mm")


class TestByKeyboard:
    def test_a_reading_and_a_sum(self, laptop, live_server, sign_in, student, build):
        page = sign_in(laptop, student)
        page.goto(f"/builds/{build.pk}/")
        for _ in range(20):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.id") == "length":
                break
        page.keyboard.type("0.742")
        page.keyboard.press("Enter")
        expect(page.locator("#next")).to_contain_text("place 2 of 3")
        # and the next can be typed at once
        expect(page.locator("#length")).to_be_focused()
        page.keyboard.type("0.744")
        page.keyboard.press("Enter")
        expect(page.locator("#next")).to_contain_text("place 3 of 3")

        page.locator("#part-seat .size-tap").first.focus()
        page.keyboard.press("Enter")
        expect(page.locator("#part-seat .sum")).to_be_visible()
        # the same key closes it again
        expect(page.locator("#part-seat .size-tap").first).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.locator("#part-seat .sum")).to_have_count(0)


class TestTwoPhones:
    def test_both_log_and_both_see_both(self, my_build, second_phone, build):
        second_phone.goto(f"/builds/{build.pk}/")
        my_build.locator("#length").fill("0.742")
        second_phone.locator("#length").fill("0.757")
        keep(my_build).tap()
        keep(second_phone).tap()
        for phone in (my_build, second_phone):
            expect(phone.locator("#next")).to_contain_text("place 2 of 3")

        # both were asked for the first place: the newer one counts, both are kept
        assert [row.typed for row in build.readings.all()] in (
            ["0.742", "0.757"],
            ["0.757", "0.742"],
        )
        my_build.reload()
        second_phone.reload()
        shown = [phone.locator("#next .hint").first.inner_text()
                 for phone in (my_build, second_phone)]  # fmt: skip
        assert shown[0] == shown[1]

    def test_what_the_other_logged_shows_with_the_next(
        self, my_build, second_phone, build
    ):
        log(build, POPLAR, "0.744", point=2)
        my_build.locator("#length").fill("0.742")
        keep(my_build).tap()

        expect(my_build.locator("#next")).to_contain_text("0.742 in, 0.744 in")
