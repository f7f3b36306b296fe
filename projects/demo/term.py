"""When the invented class meets: weekly, and tonight's meeting has just begun."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from projects import actions
from projects.meetings import weekly
from projects.models import ShopClass

PAST, FUTURE = 5, 6
"""How many meetings have been, and how many come after tonight's."""
MINUTES = 150
NOTE = "Bring back the caliper you borrowed"
_BEGAN = timedelta(minutes=45)


@dataclass(frozen=True, kw_only=True)
class Term:
    """Hold when the meetings begin, oldest first."""

    nights: tuple[datetime, ...]

    @property
    def tonight(self) -> datetime:
        """When the meeting that is on began."""
        return self.ago(0)

    def ago(self, weeks: int) -> datetime:
        """Return when the meeting of so many weeks ago began."""
        return self.nights[PAST - weeks]


def term_at(now: datetime) -> Term:
    """Return the term in whose sixth meeting `now` is, some 45 minutes in."""
    began = timezone.localtime(now - _BEGAN)
    began -= timedelta(
        minutes=began.minute % 5, seconds=began.second, microseconds=began.microsecond
    )
    first = weekly(began - timedelta(weeks=PAST), count=1)[0]
    return Term(nights=tuple(weekly(first, count=PAST + 1 + FUTURE)))


def enter(shop_class: ShopClass, term: Term) -> None:
    """Enter the meetings and the dates of the term."""
    before, after = term.nights[:PAST], term.nights[PAST + 1 :]
    actions.add_meetings(shop_class, before, minutes=MINUTES)
    actions.add_meetings(shop_class, [term.tonight], minutes=MINUTES, note=NOTE)
    actions.add_meetings(shop_class, after, minutes=MINUTES)
    actions.set_class(
        shop_class,
        title=shop_class.title,
        starts_on=timezone.localdate(term.nights[0]),
        ends_on=timezone.localdate(term.nights[-1]),
    )
