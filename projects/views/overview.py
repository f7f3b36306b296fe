"""Every student of a class on one page."""

from __future__ import annotations

from typing import Literal

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from projects.access import get_class_staffed
from projects.http import HtmxRequest, respond, varying, wants_fragment
from projects.overview import next_meeting, roll_of, rows_of
from projects.present.overview import overview, read_asked, table
from projects.tables import table_response


@require_safe
@login_required
def class_detail(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show every student of a class: where they are and what holds them up.

    An open page asks every few seconds, saying what it shows (`?since=`): where that
    still holds, the answer is empty.
    """
    shop_class = get_class_staffed(request, pk)
    now = timezone.now()
    roll = roll_of(shop_class, now=now)
    live = wants_fragment(request)
    if live and request.GET.get("since") == roll.token:
        return varying(HttpResponse(status=204))
    asked = read_asked(request.GET)
    page = overview(roll, rows_of(roll), asked)
    context = {"shop_class": shop_class, "page": page}
    if not live:
        meeting = next_meeting(shop_class, now=now)
        context["meeting"] = meeting
        context["meeting_is_on"] = bool(meeting and meeting.starts_at <= now)
    return respond(
        request, "projects/class_detail.html", "projects/_overview.html", context
    )


@require_safe
@login_required
def class_overview_file(
    request: HttpRequest, pk: int, kind: Literal["csv", "ods"]
) -> HttpResponse:
    """Give the overview as a table to keep."""
    shop_class = get_class_staffed(request, pk)
    roll = roll_of(shop_class, now=timezone.now())
    header, rows = table(roll, rows_of(roll))
    name = f"{slugify(shop_class.title) or _('class')}-{roll.today.isoformat()}"
    return table_response(name, kind, header, rows)
