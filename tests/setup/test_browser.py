"""The browser fixtures themselves: they must fail when a page is wrong."""

from contextlib import contextmanager

import pytest

from tests.browser import LAPTOP, PHONE, check_accessibility, watched_page

GOOD = (
    '<!doctype html><html lang="en"><head><title>Sizes</title></head>'
    "<body><main><h1>Sizes</h1><p>{}</p></main></body></html>"
)


@contextmanager
def page_with(browser, html, *, device=LAPTOP, expected=(), headers=None):
    headers = {"Content-Type": "text/html; charset=utf-8", **(headers or {})}
    pages = watched_page(browser, "http://page.invalid", device, expected)
    page = next(pages)
    page.route("**/*", lambda route: route.fulfill(body=html, headers=headers))
    page.goto("/")
    yield page
    assert next(pages, None) is None


class TestWatchedPage:
    def test_a_quiet_page_passes(self, browser):
        with page_with(browser, GOOD) as page:
            assert page.title() == "Sizes"

    @pytest.mark.parametrize(
        ("script", "error"),
        [
            ("console.error('out of true')", "out of true"),
            ("throw new Error('kicked back')", "kicked back"),
        ],
    )
    def test_an_error_fails(self, browser, script, error):
        html = GOOD.format(f"<script>{script}</script>")

        with (
            pytest.raises(AssertionError, match=error),
            page_with(browser, html),
        ):
            pass

    def test_an_expected_error_passes(self, browser):
        html = GOOD.format("<script>console.error('status of 422')</script>")

        with page_with(browser, html, expected=["422"]) as page:
            assert page.title() == "Sizes"

    def test_an_inline_script_against_the_policy_fails(self, browser):
        html = GOOD.format("<script>document.title = 'Changed'</script>")
        headers = {"Content-Security-Policy": "default-src 'self'"}

        with (
            pytest.raises(AssertionError, match="Content Security Policy"),
            page_with(browser, html, headers=headers) as page,
        ):
            assert page.title() == "Sizes"

    def test_the_phone_is_a_phone(self, browser):
        with page_with(browser, GOOD, device=PHONE) as page:
            size = page.evaluate(
                "[screen.width, devicePixelRatio, navigator.maxTouchPoints]"
            )

        assert size == [390, 2, 1]


class TestAxe:
    def test_a_good_page_passes_under_the_policy(self, browser):
        headers = {"Content-Security-Policy": "default-src 'self'"}

        with page_with(browser, GOOD, headers=headers) as page:
            check_accessibility(page)

    def test_a_nameless_button_is_named(self, browser):
        html = GOOD.format("<button></button>")

        with (
            page_with(browser, html) as page,
            pytest.raises(AssertionError, match="button-name"),
        ):
            check_accessibility(page)
