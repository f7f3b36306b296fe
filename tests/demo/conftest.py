"""The demo's class, loaded once for all tests of a file: it takes a second or more."""

import pytest
from django.db import transaction
from django.test import override_settings

from projects import demo

# the real hashes are slow on purpose
QUICK = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(scope="module")
def demo_class(django_db_setup, django_db_blocker):
    """Load the demo, and take it back behind the file's last test."""
    with (
        django_db_blocker.unblock(),
        override_settings(PASSWORD_HASHERS=QUICK),
        transaction.atomic(),
    ):
        yield demo.load()
        transaction.set_rollback(True)


@pytest.fixture
def loaded(demo_class, db):
    """The demo's class; what a test changes is taken back behind it."""
    return demo_class
