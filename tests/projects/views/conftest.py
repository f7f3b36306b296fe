"""Plans being written."""

import pytest

from projects import drafting
from tests.factories import InstructorFactory


@pytest.fixture
def draft(shop_class, instructor):
    """The boot bench being changed."""
    return drafting.edit(shop_class.revision.plan, instructor)


@pytest.fixture
def empty(instructor):
    """A plan that was only just started."""
    return drafting.start(instructor, title="Coat rack", units="in")


@pytest.fixture
def other(draft):
    """An instructor who may write at it too."""
    found = InstructorFactory.create(name="Bram Tull")
    return drafting.share(draft.plan, found.username)
