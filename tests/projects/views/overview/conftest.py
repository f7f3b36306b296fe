"""The overview as the instructor reads it, at a time that stands still."""

import pytest
from django.urls import reverse

from tests.factories import (
    MachineFactory,
)
from tests.projects.views.overview.things import AT


@pytest.fixture
def clock(monkeypatch):
    """Set what time it is: clock(a datetime)."""

    def set_to(at):
        monkeypatch.setattr("projects.views.overview.timezone.now", lambda: at)

    set_to(AT)
    return set_to


@pytest.fixture
def saw(shop_class):
    """The shop's table saw."""
    return MachineFactory.create(shop=shop_class.shop)


@pytest.fixture
def look(clock, shop_class, as_instructor):
    """Read the overview as the instructor does: look("?sort=name")."""

    def get(query="", **headers):
        url = reverse("class-detail", args=[shop_class.pk])
        return as_instructor.get(url + query, headers=headers)

    return get
