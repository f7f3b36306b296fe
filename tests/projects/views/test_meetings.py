"""When a class meets."""

from datetime import UTC, datetime, timedelta

import icalendar
import pytest
from django.urls import reverse
from django.utils import timezone

from projects.meetings import weekly
from projects.models import Meeting, Presence


@pytest.fixture(autouse=True)
def chicago(settings):
    settings.TIME_ZONE = "America/Chicago"
    yield
    timezone.deactivate()


@pytest.fixture
def url(shop_class):
    return reverse("class-meetings", args=[shop_class.pk])


@pytest.fixture
def calendar_url(shop_class):
    return reverse("class-calendar", args=[shop_class.pk])


@pytest.fixture
def meeting(shop_class):
    """A meeting a week from now."""
    return Meeting.objects.create(
        shop_class=shop_class,
        starts_at=timezone.now() + timedelta(days=7),
        note="Bring the shelves",
    )


def clocks(shop_class):
    """Return when the meetings begin, as the school's clocks show it."""
    return [
        timezone.localtime(meeting.starts_at).strftime("%Y-%m-%d %H:%M")
        for meeting in shop_class.meetings.all()
    ]


SERIES = {
    "series": "1",
    "series-starts_at": "2026-10-22T18:30",
    "series-count": "4",
    "series-minutes": "150",
}
ONE = {"one": "1", "one-starts_at": "2026-09-03T18:30", "one-minutes": "180"}


class TestThePage:
    def test_the_next_one_stands_first(self, url, as_instructor, shop_class, meeting):
        later = meeting.starts_at + timedelta(days=7)
        Meeting.objects.create(shop_class=shop_class, starts_at=later, note="Glue up")
        gone = meeting.starts_at - timedelta(days=14)
        Meeting.objects.create(shop_class=shop_class, starts_at=gone, note="Milling")
        page = as_instructor.get(url).content.decode()
        places = [
            page.index(words)
            for words in (
                "Next meeting", "Bring the shelves", "Coming meetings", "Glue up",
                "1 meeting was held", "Milling",
            )
        ]  # fmt: skip

        assert places == sorted(places)

    def test_one_that_goes_on_is_on_now(self, url, as_instructor, meeting):
        Meeting.objects.update(starts_at=timezone.now() - timedelta(minutes=30))

        assert "On now" in as_instructor.get(url).content.decode()

    def test_an_assistant_sees_no_form(self, url, client_of, assistant, meeting):
        page = client_of(assistant).get(url).content.decode()

        assert "Bring the shelves" in page
        assert "Add one meeting" not in page
        assert "Remove" not in page

    def test_an_assistant_writes_nothing(self, url, client_of, assistant, shop_class):
        assert client_of(assistant).post(url, ONE).status_code == 403
        assert clocks(shop_class) == []

    def test_it_takes_four_queries(
        self, url, as_instructor, shop_class, meeting, django_assert_num_queries
    ):
        for days in range(20):
            start = meeting.starts_at + timedelta(days=days + 1)
            Meeting.objects.create(shop_class=shop_class, starts_at=start)
        with django_assert_num_queries(4):  # session, user, class, meetings
            as_instructor.get(url)


class TestOneMeeting:
    def test_it_begins_when_the_schools_clock_says(
        self, url, as_instructor, shop_class
    ):
        answered = as_instructor.post(url, ONE | {"one-note": "First evening"})
        (meeting,) = shop_class.meetings.all()

        assert answered.headers["Location"] == url
        assert meeting.starts_at == datetime(2026, 9, 3, 23, 30, tzinfo=UTC)
        assert (meeting.minutes, meeting.note) == (180, "First evening")

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("one-starts_at", ""),
            ("one-starts_at", "next Thursday"),
            ("one-starts_at", "2027-03-14T02:30"),  # a time the clocks leave out
            ("one-minutes", "0"),
            ("one-minutes", "99999"),
            ("one-note", "x" * 201),
        ],
    )
    def test_nonsense_is_refused_at_its_field(
        self, field, value, url, as_instructor, shop_class
    ):
        answered = as_instructor.post(url, ONE | {field: value})

        assert answered.status_code == 422
        assert f'id="id_{field}_error"' in answered.content.decode()
        assert clocks(shop_class) == []

    def test_the_same_time_twice_is_refused(self, url, as_instructor, shop_class):
        as_instructor.post(url, ONE)
        answered = as_instructor.post(url, ONE)

        assert answered.status_code == 422
        assert "Thu, 3 Sep 2026, 18:30" in answered.content.decode()
        assert len(clocks(shop_class)) == 1


class TestASeries:
    def test_it_keeps_its_time_of_day_over_the_end_of_summer_time(
        self, url, as_instructor, shop_class
    ):
        as_instructor.post(url, SERIES)

        assert clocks(shop_class) == [
            "2026-10-22 18:30", "2026-10-29 18:30", "2026-11-05 18:30",
            "2026-11-12 18:30",
        ]  # fmt: skip
        hours = [meeting.starts_at.hour for meeting in shop_class.meetings.all()]
        assert hours == [23, 23, 0, 0]

    def test_a_week_left_out_is_made_up_for(self, url, as_instructor, shop_class):
        as_instructor.post(
            url, SERIES | {"series-skip1": "2026-10-29", "series-skip3": "2026-11-12"}
        )

        assert clocks(shop_class) == [
            "2026-10-22 18:30", "2026-11-05 18:30", "2026-11-19 18:30",
            "2026-11-26 18:30",
        ]  # fmt: skip

    @pytest.mark.parametrize("day", ["2026-10-30", "2026-10-15", "2027-01-07"])
    def test_leaving_out_what_is_no_meeting_is_refused(
        self, day, url, as_instructor, shop_class
    ):
        answered = as_instructor.post(url, SERIES | {"series-skip2": day})
        page = answered.content.decode()

        assert answered.status_code == 422
        assert 'id="id_series-skip2_error"' in page
        assert f'value="{day}"' in page
        assert clocks(shop_class) == []

    def test_one_that_meets_a_meeting_is_refused_whole(
        self, url, as_instructor, shop_class
    ):
        as_instructor.post(url, ONE | {"one-starts_at": "2026-11-05T18:30"})
        answered = as_instructor.post(url, SERIES)

        assert answered.status_code == 422
        assert "Thu, 5 Nov 2026, 18:30" in answered.content.decode()
        assert len(clocks(shop_class)) == 1

    @pytest.mark.parametrize("count", ["1", "61", "x", ""])
    def test_too_many_and_too_few_are_refused(
        self, count, url, as_instructor, shop_class
    ):
        answered = as_instructor.post(url, SERIES | {"series-count": count})

        assert answered.status_code == 422
        assert clocks(shop_class) == []


class TestRemoving:
    def test_a_meeting_goes(self, url, as_instructor, shop_class, meeting):
        answered = as_instructor.post(url, {"remove": meeting.pk})

        assert answered.headers["Location"] == url
        assert clocks(shop_class) == []

    def test_one_at_which_something_was_recorded_stays(
        self, url, as_instructor, instructor, meeting, build
    ):
        Presence.objects.create(
            meeting=meeting,
            build=build,
            state="present",
            at=timezone.now(),
            by=instructor,
        )
        answered = as_instructor.post(url, {"remove": meeting.pk})

        assert answered.status_code == 422
        assert "so it stays" in answered.content.decode()
        assert Meeting.objects.filter(pk=meeting.pk).exists()

    @pytest.mark.parametrize("number", ["0", "x", "", "²"])
    def test_what_is_no_meeting_is_not_found(self, number, url, as_instructor):
        assert as_instructor.post(url, {"remove": number}).status_code == 404

    def test_another_classs_meeting_is_not_found(
        self, url, as_instructor, other_class, meeting
    ):
        Meeting.objects.update(shop_class=other_class)

        assert as_instructor.post(url, {"remove": meeting.pk}).status_code == 404


class TestTheCalendar:
    def test_it_comes_as_a_file(self, calendar_url, as_student, shop_class, meeting):
        answered = as_student.get(calendar_url)
        read = icalendar.Calendar.from_ical(answered.content)

        assert answered.headers["Content-Type"] == "text/calendar; charset=utf-8"
        assert (
            f'filename="class-{shop_class.pk}.ics"'
            in answered.headers["Content-Disposition"]
        )
        assert [str(event["SUMMARY"]) for event in read.walk("VEVENT")] == [
            "Thursday evenings"
        ]

    def test_it_says_nothing_about_the_computer(
        self, calendar_url, as_student, meeting
    ):
        text = as_student.get(calendar_url).content.decode()

        assert "testserver" not in text
        assert "http" not in text

    def test_who_has_left_gets_none(self, calendar_url, as_student, student):
        student.memberships.update(left_at=timezone.now())

        assert as_student.get(calendar_url).status_code == 404

    def test_it_takes_four_queries(
        self, calendar_url, as_student, meeting, django_assert_num_queries
    ):
        with django_assert_num_queries(4):  # session, user, class, meetings
            as_student.get(calendar_url)


def test_a_series_over_the_start_of_summer_time_keeps_its_time():
    with timezone.override("Europe/Berlin"):
        first = timezone.make_aware(datetime(2027, 3, 24, 9, 0))  # noqa: DTZ001
        found = weekly(first, count=3)

    assert [start.strftime("%d %H:%M %z") for start in found] == [
        "24 09:00 +0100", "31 09:00 +0200", "07 09:00 +0200",
    ]  # fmt: skip
