"""Fixtures for every test: the database file, static files, browser and axe."""

import os

import pytest
from django.conf import settings
from django.test import override_settings
from hypothesis import settings as hypothesis_settings
from playwright.sync_api import sync_playwright

from tests.browser import LAPTOP, PHONE, check_accessibility, launch, watched_page

# Playwright runs an event loop in the test's thread; Django takes that for async code.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

# A busy computer is no fault of the code; benchmarks look after speed. The examples are
# the same each time, so that whether a change passes depends on the change alone;
# `--hypothesis-profile=explore` draws others.
hypothesis_settings.register_profile("patient", deadline=None, derandomize=True)
hypothesis_settings.register_profile("explore", deadline=None)
hypothesis_settings.load_profile("patient")

collect_ignore = ["bench"]  # run by manage.py bench


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix, tmp_path_factory
):
    """Put the SQLite test database into a file: threads may not share one in memory."""
    database = settings.DATABASES["default"]
    if database["ENGINE"] == "django.db.backends.sqlite3":
        folder = tmp_path_factory.mktemp("database")
        database["TEST"]["NAME"] = str(folder / "test.sqlite3")


@pytest.fixture(scope="session", autouse=True)
def _plain_static_files(tmp_path_factory):
    """Serve static files as they are, without collecting them first."""
    plain = "django.contrib.staticfiles.storage.StaticFilesStorage"
    storages = {**settings.STORAGES, "staticfiles": {"BACKEND": plain}}
    empty = tmp_path_factory.mktemp("static")
    with override_settings(STORAGES=storages, STATIC_ROOT=empty):
        yield


@pytest.fixture(scope="session")
def browser():
    """One Chromium for the whole run."""
    with sync_playwright() as playwright:
        chromium = launch(playwright)
        yield chromium
        chromium.close()


@pytest.fixture
def expected_errors() -> list[str]:
    """Hold parts of the console errors that a test means to cause, such as "422"."""
    return []


@pytest.fixture
def phone(browser, live_server, expected_errors):
    """Open a page on a phone, at the live server."""
    yield from watched_page(browser, live_server.url, PHONE, expected_errors)


@pytest.fixture
def laptop(browser, live_server, expected_errors):
    """Open a page on a laptop, at the live server."""
    yield from watched_page(browser, live_server.url, LAPTOP, expected_errors)


@pytest.fixture(scope="session")
def axe():
    """Check a page's accessibility: axe(page) asserts that nothing is wrong."""
    return check_accessibility
