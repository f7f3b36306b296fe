"""What a row of the overview tells."""

from datetime import timedelta
from fractions import Fraction

import pytest
from django.urls import reverse

from projects.models import (
    Meeting,
    Reading,
)
from tests.factories import (
    OPENING,
    POPLAR,
    SHELF_CUT,
    RevisionFactory,
    log,
    log_stock,
)
from tests.projects.views.overview.things import (
    AT,
    mark,
    raise_hand,
    record,
    row,
    steps_of,
    take_check,
    text,
)


class TestTheRows:
    def test_a_row_tells_step_progress_and_last_sign_of_life(self, look, build):
        mark(build, "rough_cut", at=AT - timedelta(minutes=34))
        told = row(text(look()), build)

        assert told.startswith("Perpetua Lindqvale 2 Joint one face and one edge")
        assert "1 of 23" in told
        assert told.endswith("30 min ago")

    def test_it_leads_to_the_students_steps(self, look, build):
        assert f'href="{reverse("build-steps", args=[build.pk])}"' in text(look())

    @pytest.mark.parametrize(
        ("ago", "told"),
        [
            (timedelta(minutes=9), "just now"),
            (timedelta(minutes=59), "50 min ago"),
            (timedelta(hours=3, minutes=50), "3 h ago"),
            (timedelta(hours=19), "11 Mar"),
            (timedelta(days=100), "2 Dec 2025"),
        ],
    )
    def test_how_long_ago_is_told_coarsely(self, ago, told, look, build):
        log(build, POPLAR, "0.742", at=AT - ago)

        assert row(text(look()), build).endswith(told)

    def test_whoever_did_nothing_was_never_seen(self, look, build):
        assert row(text(look()), build).endswith("never")

    def test_checks_and_what_the_student_recorded_are_signs_of_life(
        self, look, build, saw, instructor
    ):
        take_check(build, saw, AT - timedelta(hours=2))
        assert row(text(look()), build).endswith("2 h ago")

        record(build, saw, by=build.student, at=AT - timedelta(hours=1))
        record(build, saw, by=instructor, at=AT)
        assert row(text(look()), build).endswith("1 h ago")

    def test_a_raised_hand_is_loudest_and_says_why(self, look, build, saw):
        raise_hand(build, "The fence won't lock.", at=AT - timedelta(minutes=21))
        page = text(look())
        told = row(page, build)

        assert "Hand up 20 min ago: The fence won&#x27;t lock." in told
        assert told.index("Hand up") < told.index("signed off")
        assert "1 hand up" in page

    def test_a_hand_taken_down_is_gone(self, look, build):
        raise_hand(build)
        raise_hand(build, raised=False)

        assert "Hand up" not in row(text(look()), build)

    def test_a_reading_in_doubt_leads_to_the_readings(self, look, build):
        log_stock(build)
        log(build, OPENING, "34 1/2", "34 1/2", instrument="tape")
        log(build, SHELF_CUT, "34", instrument="tape")
        page = text(look())

        assert "1 reading in doubt" in row(page, build)
        assert f'href="{reverse("readings", args=[build.pk])}"' in page

    def test_readings_that_cannot_be_built_are_told(self, look, build):
        Reading.objects.create(
            build=build,
            target="cut:left_side.length",
            point=1,
            typed="1/2",
            mm=Fraction(127, 10),
            unit="in",
            instrument="tape",
            at=AT,
            by=build.student,
        )
        told = row(text(look()), build)

        assert "can't be built with these readings" in told.replace("&#x27;", "'")

    def test_all_done_is_told(self, look, build, shop_class):
        log_stock(build)
        for step in steps_of(build):
            mark(build, step.key)
        page = text(look())

        assert "All done" in row(page, build)
        assert "23 of 23" in row(page, build)

    def test_whoever_left_has_no_row(self, look, build, shop_class):
        shop_class.memberships.filter(user=build.student).update(left_at=AT)

        assert build.student.name not in text(look())

    def test_an_empty_class_says_so(self, look):
        assert "Nobody is in this class yet." in text(look())

    def test_builds_on_an_older_revision_are_told(self, look, build):
        RevisionFactory.create(plan=build.revision.plan, number=2)
        page = text(look())

        assert "1 build is on an older revision" in page
        assert reverse("class-move", args=[build.shop_class_id]) in page

    def test_the_next_meeting_is_told(self, look, shop_class):
        past, on, later = (AT + timedelta(hours=n) for n in (-20, -1, 100))
        for at, note in ((later, "Glue"), (on, "Bring goggles"), (past, "First")):
            Meeting.objects.create(shop_class=shop_class, starts_at=at, note=note)
        page = text(look())

        assert "Bring goggles" in page
        assert "Glue" not in page
