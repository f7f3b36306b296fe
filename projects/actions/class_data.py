"""What an instructor writes about a class: dates, meetings, the log of near misses."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from django.utils import timezone

from projects.models import Machine, Meeting, NearMiss, ShopClass, User


def set_class(
    shop_class: ShopClass, *, title: str, starts_on: date | None, ends_on: date | None
) -> None:
    """Give a class its title and the dates of its term."""
    shop_class.title, shop_class.starts_on = title, starts_on
    shop_class.ends_on = ends_on
    shop_class.save(update_fields=["title", "starts_on", "ends_on"])


def archive_class(shop_class: ShopClass) -> None:
    """Archive a class: everything stays to be read, nothing more is written."""
    ShopClass.objects.filter(pk=shop_class.pk, archived_at=None).update(
        archived_at=timezone.now()
    )


def reopen_class(shop_class: ShopClass) -> None:
    """Open an archived class again."""
    ShopClass.objects.filter(pk=shop_class.pk).update(archived_at=None)


def add_meetings(
    shop_class: ShopClass, starts: Sequence[datetime], *, minutes: int, note: str = ""
) -> None:
    """Add meetings to a class."""
    Meeting.objects.bulk_create(
        Meeting(shop_class=shop_class, starts_at=start, minutes=minutes, note=note)
        for start in starts
    )


def log_near_miss(
    shop_class: ShopClass,
    *,
    by: User,
    kind: str,
    happened_at: datetime,
    machine: Machine | None,
    what: str,
    done: str,
) -> NearMiss:
    """Log what nearly or really hurt somebody, or broke something."""
    return NearMiss.objects.create(
        shop_class=shop_class,
        kind=kind,
        happened_at=happened_at,
        machine=machine,
        what=what,
        done=done,
        at=timezone.now(),
        by=by,
    )


def add_to_near_miss(
    entry: NearMiss, *, by: User, kind: str, what: str, done: str
) -> NearMiss:
    """Add to an entry; what it says itself stays as it is."""
    return NearMiss.objects.create(
        shop_class=entry.shop_class,
        follows=entry,
        kind=kind,
        happened_at=entry.happened_at,
        machine=entry.machine,
        what=what,
        done=done,
        at=timezone.now(),
        by=by,
    )
