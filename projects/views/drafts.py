"""Drafts: writing a plan, with its drawing beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse, QueryDict
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from projects import drafting
from projects.access import get_draft, need_instructor
from projects.draft_asides import forget, remember
from projects.draft_forms import FormError, read_entry
from projects.draft_pictures import with_picture
from projects.draft_step_forms import propose_steps
from projects.draft_verbs import read_change
from projects.drafting import Outcome
from projects.engine.errors import EngineError
from projects.http import HtmxRequest, respond
from projects.models import Draft
from projects.present.draft_drawing import VIEWS
from projects.views.draft_answers import (
    NEWS,
    VIEW_KEY,
    fragment_of,
    meanwhiles,
    news_of,
    opened_in,
    page_of,
    plainly,
    refused,
    shown,
    told_in,
)
from projects.words import lines


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def draft(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show a draft, `?open=` with a form open; change it as a form asks."""
    found = get_draft(request, pk)
    if request.method == "POST":
        return _change(request, found)
    change = drafting.current_change(found)
    opened = opened_in(request.GET)
    news = told_in(request, found, change)
    page = page_of(
        request,
        found,
        change,
        opened=opened,
        focus=NEWS if news else request.GET.get("at", ""),
        pick=request.GET.getlist("pick"),
        meanwhile=meanwhiles(request, found, change, news),
    )
    if opened is not None and page.form is None:
        raise Http404
    context = {"page": page, "draft": found, "told": _told(request, found)}
    fragment = fragment_of(request)
    return respond(request, "projects/draft_detail.html", fragment, context)


def _told(request: HtmxRequest, found: Draft) -> str:
    """Return what publishing came to: published, unchanged, or "" for neither."""
    number = str(getattr(found, "newest_number", None) or "")
    for told in ("published", "unchanged"):
        if number and request.GET.get(told) == number:
            return told
    return ""


def _change(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Do what a form asks, and show the draft with it; or the form, told why not."""
    data: QueryDict = request.POST
    special = SPECIAL.get(data.get("op", ""))
    try:
        if special is not None:
            return special(request, found)
        data = with_picture(found, need_instructor(request), data, request.FILES)
        return _edited(request, found, data)
    except FormError as error:
        return refused(request, found, data, error.fields)
    except EngineError as error:
        return refused(request, found, data, {"": " ".join(lines(error))})


def _edited(request: HtmxRequest, found: Draft, data: QueryDict) -> HttpResponse:
    asked = read_change(data)
    outcome = drafting.change(
        found,
        need_instructor(request),
        based_on=_based_on(request),
        operation=asked.operation,
        what=asked.what,
    )
    at = asked.lands_on(drafting.document_of(outcome.change))
    opened = opened_in(QueryDict(data.get("then", "")[:2000]))
    if opened is None and asked.opens is not None:
        opened = plainly(asked.opens)
        opened = replace(opened, typed=asked.goes_on_with, moved=asked.moved)
    news = news_of(request, found, outcome)
    return shown(request, found, outcome, at=at, opened=opened, news=news)


def _based_on(request: HtmxRequest) -> int:
    number = request.POST.get("based_on", "")
    if not number.isdecimal() or len(number) > 9:
        raise EngineError("this form is not known here")
    return int(number)


def _undo(request: HtmxRequest, found: Draft) -> HttpResponse:
    change = drafting.undo(found, based_on=_based_on(request))
    return shown(request, found, Outcome(change=change), focus="undo")


def _redo(request: HtmxRequest, found: Draft) -> HttpResponse:
    change = drafting.redo(found, based_on=_based_on(request))
    return shown(request, found, Outcome(change=change), focus="redo")


def _propose(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Put the steps that the joints suggest in the place of those there are."""
    outcome = drafting.change(
        found,
        need_instructor(request),
        based_on=_based_on(request),
        operation=propose_steps,
        what=lambda _old, _new: _("steps proposed"),
    )
    news = news_of(request, found, outcome)
    return shown(request, found, outcome, focus="propose", news=news)


def _mine(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Put in what was kept aside; where that can't be, it stays in view."""
    aside, place = _aside(request), request.POST.get("place", "")
    remember(request, found, aside)
    outcome = drafting.put_mine(
        found,
        need_instructor(request),
        based_on=_based_on(request),
        aside=aside,
        place=place,
    )
    at = read_entry(place.rpartition(":")[0])
    news = news_of(request, found, outcome, theirs=False)
    return shown(request, found, outcome, at=at, news=news)


def _theirs(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Leave what others wrote; what was kept aside goes out of view."""
    forget(request, found, _aside(request))
    outcome = Outcome(change=drafting.current_change(found))
    return shown(request, found, outcome, focus="top")


def _aside(request: HtmxRequest) -> int:
    number = request.POST.get("aside", "")
    if not number.isdecimal() or len(number) > 9:
        raise EngineError("this form is not known here")
    return int(number)


def _view(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Keep from where this person looks at the piece."""
    chosen = request.POST.get("view", "")
    if chosen in VIEWS:
        request.session[VIEW_KEY] = chosen
    outcome = Outcome(change=drafting.current_change(found))
    return shown(request, found, outcome, focus=f"view-{chosen}")


SPECIAL: dict[str, Callable[[HtmxRequest, Draft], HttpResponse]] = {
    "undo": _undo,
    "redo": _redo,
    "mine": _mine,
    "theirs": _theirs,
    "propose": _propose,
    "view": _view,
}
