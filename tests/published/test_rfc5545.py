"""The calendar file of a class's meetings.

Source: RFC 5545, Internet Calendaring and Scheduling Core Object Specification
(iCalendar), September 2009: sections 3.1 (lines end in CRLF, at most 75 octets), 3.6
(PRODID and VERSION once), 3.6.1 (VEVENT: UID and DTSTAMP once, DTSTART once where there
is no METHOD, DURATION or DTEND but not both), 3.2.19 (a TZID needs its VTIMEZONE in the
same file), 3.8.7.2 (DTSTAMP is in UTC), 3.8.4.7 (UID is global and stays).
"""

from datetime import UTC, datetime, timedelta

import icalendar
import pytest
from django.utils import timezone

from projects.meetings import calendar_file
from projects.models import Meeting
from tests.factories import ShopClassFactory

FIRST = datetime(2026, 10, 29, 23, 30, tzinfo=UTC)  # 18:30 in Chicago, summer time


@pytest.fixture(autouse=True)
def chicago():
    with timezone.override("America/Chicago"):
        yield


@pytest.fixture
def shop_class(db):
    """A class with a title that has to be escaped and folded."""
    return ShopClassFactory(title="Boot benches; evening, " + "Übung " * 8 + "end")


@pytest.fixture
def meetings(shop_class):
    """Two meetings, a week apart by the clock; summer time ends in between."""
    given = [(FIRST, "Bring glue, please"), (FIRST + timedelta(days=7, hours=1), "")]
    for start, note in given:
        Meeting.objects.create(
            shop_class=shop_class, starts_at=start, minutes=150, note=note
        )
    return list(shop_class.meetings.all())


@pytest.fixture
def data(shop_class, meetings):
    return calendar_file(shop_class, meetings)


@pytest.fixture
def read(data):
    return icalendar.Calendar.from_ical(data)


def test_lines_are_short_and_end_in_crlf(data):
    lines = data.split(b"\r\n")

    assert lines.pop() == b""
    assert max(map(len, lines)) <= 75
    assert not any(b"\n" in line for line in lines)


def test_the_calendar_has_what_it_must(read):
    assert read.errors == []
    assert read["VERSION"] == "2.0"
    assert read["PRODID"]
    assert "METHOD" not in read


def test_each_meeting_is_an_event_with_what_it_must_have(read, shop_class):
    events = read.walk("VEVENT")

    assert len(events) == 2
    for event in events:
        for name in ("UID", "DTSTAMP", "DTSTART", "DURATION"):
            assert not isinstance(event[name], list)  # once
        assert "DTEND" not in event
        assert event.errors == []
        assert str(event["SUMMARY"]) == shop_class.title
        assert event["DTSTAMP"].dt.utcoffset() == timedelta(0)
        assert event["DURATION"].dt == timedelta(minutes=150)
    assert [str(event.get("DESCRIPTION", "")) for event in events] == [
        "Bring glue, please",
        "",
    ]


def test_events_begin_when_meetings_do(read):
    starts = [event["DTSTART"].dt for event in read.walk("VEVENT")]

    assert [start.astimezone(UTC) for start in starts] == [
        FIRST,
        FIRST + timedelta(days=7, hours=1),
    ]
    assert {start.strftime("%H:%M") for start in starts} == {"18:30"}


def test_the_time_zone_comes_along(read):
    (zone,) = read.walk("VTIMEZONE")
    named = {event["DTSTART"].params["TZID"] for event in read.walk("VEVENT")}

    assert named == {str(zone["TZID"])}


def test_a_school_on_utc_needs_no_zone(shop_class, meetings):
    with timezone.override("UTC"):
        data = calendar_file(shop_class, meetings)

    assert b"DTSTART:20261029T233000Z" in data
    assert b"VTIMEZONE" not in data


def test_identifiers_stay_and_differ(shop_class, meetings, read, settings):
    def uids():
        again = icalendar.Calendar.from_ical(calendar_file(shop_class, meetings))
        return [str(event["UID"]) for event in again.walk("VEVENT")]

    first = [str(event["UID"]) for event in read.walk("VEVENT")]

    assert uids() == first
    assert len(set(first)) == 2
    settings.SECRET_KEY = "another shop's"
    assert not set(uids()) & set(first)


def test_no_meetings_make_an_empty_calendar(shop_class):
    read = icalendar.Calendar.from_ical(calendar_file(shop_class, []))

    assert read.walk("VEVENT") == []
