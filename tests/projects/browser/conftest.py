"""Phones and laptops in which somebody is signed in already."""

from contextlib import ExitStack, contextmanager

import pytest
from django.conf import settings
from playwright.sync_api import expect

from tests.browser import PHONE, watched_page

expect.set_options(timeout=10_000)


@pytest.fixture
def sign_in(client_of, live_server):
    """Sign somebody in on a device without the form: sign_in(phone, student)."""

    def with_cookie(page, user):
        session = client_of(user).cookies[settings.SESSION_COOKIE_NAME]
        cookie = {"name": session.key, "value": session.value, "url": live_server.url}
        page.context.add_cookies([cookie])
        return page

    return with_cookie


@pytest.fixture
def open_device(browser, live_server, expected_errors):
    """Open a page on one more device, each with cookies of its own: open_device(PHONE).

    Each fails for the errors that its browser met, as the others do.
    """
    with ExitStack() as devices:

        def opened(device):
            watched = contextmanager(watched_page)(
                browser, live_server.url, device, expected_errors
            )
            return devices.enter_context(watched)

        yield opened


@pytest.fixture
def student_phone(live_server, phone, sign_in, student):
    """The student's phone."""
    return sign_in(phone, student)


@pytest.fixture
def second_phone(browser, live_server, sign_in, student, expected_errors):
    """Another phone of the same student."""
    for page in watched_page(browser, live_server.url, PHONE, expected_errors):
        yield sign_in(page, student)


@pytest.fixture
def plain_phone(browser, live_server, sign_in, student, expected_errors):
    """The student's phone, with JavaScript off."""
    device = {**PHONE, "java_script_enabled": False}
    for page in watched_page(browser, live_server.url, device, expected_errors):
        yield sign_in(page, student)


@pytest.fixture
def instructor_laptop(live_server, laptop, sign_in, instructor):
    """The instructor's laptop."""
    return sign_in(laptop, instructor)
