"""The people of a class, and what is theirs."""

import pytest
from django.core.cache import cache
from django.test import Client

from tests.factories import InstructorFactory, ShopClassFactory, enrol, help_in


@pytest.fixture(autouse=True)
def _quick_hashes(settings):
    # the real hashes are slow on purpose
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(autouse=True)
def _no_wrong_codes():
    """Forget what was guessed in other tests: it counts for ten minutes."""
    cache.clear()


@pytest.fixture
def shop_class(db):
    """A class that builds the boot bench."""
    return ShopClassFactory(revision__plan__owner__name="Ottoline Varga")


@pytest.fixture
def instructor(shop_class):
    """Who teaches the class and owns its plan."""
    return shop_class.revision.plan.owner


@pytest.fixture
def build(shop_class):
    """The student's build."""
    return enrol(shop_class, name="Perpetua Lindqvale")


@pytest.fixture
def student(build):
    """Whose build it is."""
    return build.student


@pytest.fixture
def classmate(shop_class):
    """Another student of the same class."""
    return enrol(shop_class, name="Cosimo Bellwether").student


@pytest.fixture
def assistant(shop_class):
    """Who helps in the class, and was given no right beyond seeing it."""
    return help_in(shop_class, name="Amabel Thornquay")


@pytest.fixture
def other_class(db):
    """A class of somebody else, on somebody else's plan."""
    return ShopClassFactory(title="Saturday mornings")


@pytest.fixture
def other_instructor(other_class):
    """Who teaches the other class."""
    return other_class.revision.plan.owner


@pytest.fixture
def stranger(other_class):
    """A student of the other class."""
    return enrol(other_class).student


@pytest.fixture
def colleague(db):
    """An instructor with no class and no plan."""
    return InstructorFactory()


@pytest.fixture
def client_of():
    """Give a browser in which somebody is signed in: client_of(user)."""

    def signed_in(user, **options):
        client = Client(**options)
        client.force_login(user, backend="django.contrib.auth.backends.ModelBackend")
        return client

    return signed_in


@pytest.fixture
def as_student(client_of, student):
    """The student's browser."""
    return client_of(student)


@pytest.fixture
def as_instructor(client_of, instructor):
    """The instructor's browser."""
    return client_of(instructor)
