"""When a class meets: a weekly series, and the calendar file."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date, datetime, timedelta, tzinfo

from django.utils import timezone
from django.utils.crypto import salted_hmac
from icalendar import Calendar, Event

from projects.models import Meeting, ShopClass

_WEEK = timedelta(weeks=1)


def weekly(
    first: datetime, *, count: int, skip: Collection[date] = ()
) -> list[datetime]:
    """Return `count` meetings a week apart, from `first` on; none on a date in `skip`.

    A week left out is made up for at the end. All keep the time of day that the
    school's clocks show at the first, whatever summer time does in between.
    """
    found: list[datetime] = []
    zone = timezone.get_current_timezone()
    start = timezone.make_naive(first, zone)
    while len(found) < count:
        if start.date() not in skip:
            found.append(start.replace(tzinfo=zone))
        start += _WEEK
    return found


def calendar_file(shop_class: ShopClass, meetings: Sequence[Meeting]) -> bytes:
    """Return a class's meetings as an iCalendar file (RFC 5545), an event each."""
    zone = timezone.get_current_timezone()
    calendar = Calendar()
    calendar.add("prodid", "-//Shop class//Meetings//EN")
    calendar.add("version", "2.0")
    for meeting in meetings:
        calendar.add_component(_event(shop_class, meeting, zone))
    if meetings:
        starts = [meeting.starts_at for meeting in meetings]
        # the zone's rules, from the year before to the year after
        calendar.add_missing_timezones(
            date(min(starts).year - 1, 1, 1), date(max(starts).year + 2, 1, 1)
        )
    return bytes(calendar.to_ical())


def _event(shop_class: ShopClass, meeting: Meeting, zone: tzinfo) -> Event:
    event = Event()
    event.add("uid", _uid(meeting))
    event.add("dtstamp", timezone.now())
    event.add("dtstart", meeting.starts_at.astimezone(zone))
    event.add("duration", timedelta(minutes=meeting.minutes))
    event.add("summary", shop_class.title)
    if meeting.note:
        event.add("description", meeting.note)
    return event


def _uid(meeting: Meeting) -> str:
    """Return what a calendar knows a meeting by: the same whenever it is asked.

    Two shops may both have a meeting 7 of class 2; the tail, made from the secret key,
    tells them apart and tells nothing about the computer.
    """
    numbers = f"class-{meeting.shop_class_id}-meeting-{meeting.pk}"
    tail = salted_hmac("projects.meetings", numbers, algorithm="sha256").hexdigest()
    return f"{numbers}-{tail[:16]}"
