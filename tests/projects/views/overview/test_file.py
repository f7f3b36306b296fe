"""The overview as a table to keep."""

import csv
import io
from datetime import timedelta

import pytest
from django.urls import reverse

from tests.factories import (
    log_stock,
)
from tests.projects.views.overview.things import AT, mark, raise_hand, steps_of


class TestTheFile:
    @pytest.fixture
    def fetch(self, clock, shop_class, as_instructor):
        """Fetch the overview as a file: fetch("csv")."""

        def get(kind):
            url = reverse("class-overview-file", args=[shop_class.pk, kind])
            return as_instructor.get(url)

        return get

    def test_a_row_a_student_with_all_the_page_tells(self, fetch, build, saw):
        log_stock(build)
        for step in steps_of(build)[:4]:
            mark(build, step.key, at=AT - timedelta(minutes=34))
        raise_hand(build, "=Help", at=AT)
        answered = fetch("csv")
        (told,) = csv.DictReader(io.StringIO(answered.content.decode("utf-8-sig")))

        assert answered.headers["Content-Type"].startswith("text/csv")
        assert "thursday-evenings" in answered.headers["Content-Disposition"]
        assert told["Student"] == "Perpetua Lindqvale"
        assert told["Stage"] == "Milling"
        assert told["Step"] == "5"
        assert told["Machine"] == "Table saw"
        assert told["Sign-off"] == "not signed off"
        assert told["Held up by"].startswith("Hand up just now: =Help; Table saw: not")
        assert (told["Steps done"], told["Steps"]) == ("4", "23")
        assert told["Last sign of life"].startswith("2026-03-12 18:05")

    def test_a_spreadsheet_too(self, fetch, build):
        answered = fetch("ods")

        assert answered.content[:2] == b"PK"

    def test_no_other_kind(self, as_instructor, shop_class):
        assert (
            as_instructor.get(f"/classes/{shop_class.pk}/overview.xls").status_code
            == 404
        )
