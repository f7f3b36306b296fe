"""When a class meets."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.db.models import ProtectedError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from projects import actions
from projects.access import get_class_of_member, get_class_staffed, need_open
from projects.class_forms import MeetingForm, SeriesForm, shown
from projects.meetings import calendar_file
from projects.models import ShopClass
from projects.present.meetings import meetings_page
from projects.views.requirements import number_sent


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def class_meetings(request: HttpRequest, pk: int) -> HttpResponse:
    """List the meetings; the instructors add one or a series, or remove one."""
    shop_class = get_class_staffed(request, pk)
    one, series = MeetingForm(shop_class=shop_class), SeriesForm(shop_class=shop_class)
    if request.method == "POST":
        _need_to_teach(shop_class)
        if "remove" in request.POST:
            return _remove(request, shop_class)
        if "series" in request.POST:
            series = SeriesForm(request.POST, shop_class=shop_class)
        else:
            one = MeetingForm(request.POST, shop_class=shop_class)
        form = series if "series" in request.POST else one
        if form.is_valid():
            given = form.cleaned_data
            actions.add_meetings(
                shop_class, form.starts(), minutes=given["minutes"], note=given["note"]
            )
            return redirect("class-meetings", pk)
    return _page(request, shop_class, one=one, series=series)


def _page(
    request: HttpRequest,
    shop_class: ShopClass,
    *,
    one: MeetingForm,
    series: SeriesForm,
    problem: str = "",
) -> HttpResponse:
    context = {
        "shop_class": shop_class,
        "page": meetings_page(list(shop_class.meetings.all()), now=timezone.now()),
        "one": one,
        "series": series,
        "problem": problem,
        "zone": timezone.get_current_timezone_name(),
    }
    status = 422 if problem or one.errors or series.errors else 200
    return render(request, "projects/class_meetings.html", context, status=status)


def _remove(request: HttpRequest, shop_class: ShopClass) -> HttpResponse:
    meeting = get_object_or_404(shop_class.meetings, pk=number_sent(request, "remove"))
    try:
        meeting.delete()
    except ProtectedError:
        return _page(
            request,
            shop_class,
            one=MeetingForm(shop_class=shop_class),
            series=SeriesForm(shop_class=shop_class),
            problem=_("Something was recorded at this meeting, so it stays: %(when)s.")
            % {"when": shown(meeting)},
        )
    return redirect("class-meetings", shop_class.pk)


def _need_to_teach(shop_class: ShopClass) -> None:
    if not getattr(shop_class, "teaches", False):
        raise PermissionDenied
    need_open(shop_class)


@require_safe
@login_required
def class_calendar(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the meetings as a calendar file, to whoever belongs to the class."""
    shop_class = get_class_of_member(request, pk)
    return HttpResponse(
        calendar_file(shop_class, list(shop_class.meetings.all())),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="class-{pk}.ics"'},
    )
