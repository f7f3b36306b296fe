"""Drafts: writing a plan, with its drawing beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from projects import drafting
from projects.access import get_draft, need_instructor
from projects.draft_forms import Entry, FormError, read_entry
from projects.draft_pictures import with_picture
from projects.draft_step_forms import propose_steps
from projects.draft_verbs import read_change
from projects.drafting import Outcome
from projects.engine.errors import EngineError
from projects.http import HtmxRequest, respond, varying, wants_fragment
from projects.models import Draft, DraftChange
from projects.present.draft_drawing import VIEWS
from projects.present.draft_page import (
    DraftPage,
    Meanwhile,
    Opened,
    draft_page,
    is_faulty,
    meanwhile_of,
)
from projects.present.draft_steps import CHOSEN
from projects.showing import SESSION_KEY
from projects.words import lines

VIEW_KEY = "draft_view"
TICKED = ("fits", *CHOSEN, "known_cautions")


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def draft(request: HtmxRequest, pk: int) -> HttpResponse:
    """Show a draft, `?open=` with a form open; change it as a form asks."""
    found = get_draft(request, pk)
    if request.method == "POST":
        return _change(request, found)
    change = drafting.current_change(found)
    opened = _opened(request.GET)
    page = _page(
        request,
        found,
        change,
        opened=opened,
        focus=request.GET.get("at", ""),
        pick=request.GET.getlist("pick"),
        meanwhile=_meanwhile(request, found, change),
    )
    if opened is not None and page.form is None:
        raise Http404
    context = {"page": page, "draft": found}
    fragment = _fragment(request)
    return respond(request, "projects/draft_detail.html", fragment, context)


def _fragment(request: HtmxRequest) -> str:
    """Return the template of the part of the page that htmx asks for."""
    return {
        "draft-form": "projects/_draft_form.html",
        "draft-picked": "projects/_draft_picked.html",
        "drawing": "projects/_draft_drawing.html",
    }.get(request.htmx.target or "", "projects/_draft.html")


def _opened(data: QueryDict) -> Opened | None:
    """Return what `?open=` asks for, with what the address or the form says of it."""
    entry = read_entry(data.get("open", ""))
    if entry is None:
        return None
    return Opened(
        list_name=entry.list_name,
        key=entry.key,
        typed=_typed(data),
        is_whole="based_on" in data,
        asks_to_remove="sure" in data,
    )


def _typed(data: QueryDict) -> dict[str, Any]:
    """Return what was typed into a form's fields."""
    typed: dict[str, Any] = {name: data.get(name, "") for name in data}
    if "based_on" in data:
        typed |= {name: data.getlist(name) for name in TICKED}
    return typed


def _meanwhile(
    request: HtmxRequest, found: Draft, change: DraftChange
) -> Meanwhile | None:
    """Return what `?aside=` says is in conflict with what others changed."""
    number = request.GET.get("aside", "")
    if not number.isdecimal() or len(number) > 9:
        return None
    try:
        merged = drafting.merged_with(found, int(number), change)
    except EngineError as error:
        raise Http404 from error
    return meanwhile_of(merged, int(number)) if merged.conflicts else None


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
        return _refused(request, found, data, error.fields)
    except EngineError as error:
        return _refused(request, found, data, {"": " ".join(lines(error))})


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
    opened = _opened(QueryDict(data.get("then", "")[:2000]))
    if opened is None and asked.opens is not None:
        opened = _plainly(asked.opens)
    return _shown(request, found, outcome, at=at, opened=opened)


def _plainly(entry: Entry) -> Opened:
    """Return an entry's form with what the draft holds."""
    return Opened(list_name=entry.list_name, key=entry.key, typed={})


def _shown(
    request: HtmxRequest,
    found: Draft,
    outcome: Outcome,
    *,
    at: Entry | None = None,
    opened: Opened | None = None,
    focus: str = "",
) -> HttpResponse:
    """Show a draft after a change; a browser without script is sent there.

    The entry `at` stays open where something typed there can't be read.
    """
    if at and not opened and is_faulty(outcome.change, at.list_name, at.key):
        opened = _plainly(at)
    aside = outcome.aside.number if outcome.aside else None
    focus = focus or (str(at) if at else "")
    if not wants_fragment(request):
        opens = f"{opened.list_name}:{opened.key}" if opened else ""
        asked = {"at": focus, "open": opens, "aside": aside or ""}
        query = {name: value for name, value in asked.items() if value}
        return redirect(f"{reverse('draft', args=[found.plan_id])}?{urlencode(query)}")
    page = _page(
        request,
        found,
        outcome.change,
        opened=opened,
        focus="" if opened else focus,
        meanwhile=meanwhile_of(outcome.merged, aside) if outcome.merged else None,
    )
    context = {"page": page, "draft": found}
    return varying(render(request, _fragment(request), context))


def _refused(
    request: HtmxRequest, found: Draft, data: QueryDict, errors: dict[str, str]
) -> HttpResponse:
    """Show the form again with what was typed and why it was refused."""
    change = drafting.current_change(found)
    entry = read_entry(data.get("entry", ""))
    told = {name: [words] for name, words in errors.items()}
    page = None
    if entry is not None:
        opened = replace(_plainly(entry), typed=_typed(data), errors=told)
        opened = replace(opened, is_whole=True)
        page = _page(request, found, change, opened=opened)
    if page is None or page.form is None:
        page = _page(request, found, change, refusal=list(errors.values()))
    context = {"page": page, "draft": found}
    return respond(
        request,
        "projects/draft_detail.html",
        "projects/_draft.html",
        context,
        status=422,
    )


def _page(
    request: HtmxRequest,
    found: Draft,
    change: DraftChange,
    *,
    opened: Opened | None = None,
    focus: str = "",
    pick: Sequence[str] = (),
    meanwhile: Meanwhile | None = None,
    refusal: Sequence[str] = (),
) -> DraftPage:
    found.current = change.number
    following = drafting.next_change(found)
    return draft_page(
        change,
        redoes=following.what if following else "",
        shown_as=str(request.session.get(SESSION_KEY, "")),
        view=str(request.session.get(VIEW_KEY, "front")),
        opened=opened,
        focus=focus,
        pick=pick,
        meanwhile=meanwhile,
        refusal=refusal,
    )


def _based_on(request: HtmxRequest) -> int:
    number = request.POST.get("based_on", "")
    if not number.isdecimal() or len(number) > 9:
        raise EngineError("this form is not known here")
    return int(number)


def _undo(request: HtmxRequest, found: Draft) -> HttpResponse:
    change = drafting.undo(found, based_on=_based_on(request))
    return _shown(request, found, Outcome(change=change), focus="undo")


def _redo(request: HtmxRequest, found: Draft) -> HttpResponse:
    change = drafting.redo(found, based_on=_based_on(request))
    return _shown(request, found, Outcome(change=change), focus="redo")


def _propose(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Put the steps that the joints suggest in the place of those there are."""
    outcome = drafting.change(
        found,
        need_instructor(request),
        based_on=_based_on(request),
        operation=propose_steps,
        what=lambda _old, _new: _("steps proposed"),
    )
    return _shown(request, found, outcome, focus="propose")


def _mine(request: HtmxRequest, found: Draft) -> HttpResponse:
    aside, n = (request.POST.get(name, "") for name in ("aside", "n"))
    if not (aside.isdecimal() and n.isdecimal() and len(aside + n) < 10):
        raise EngineError("this form is not known here")
    outcome = drafting.put_mine(
        found,
        need_instructor(request),
        based_on=_based_on(request),
        aside=int(aside),
        n=int(n),
    )
    return _shown(request, found, outcome)


def _view(request: HtmxRequest, found: Draft) -> HttpResponse:
    """Keep from where this person looks at the piece."""
    chosen = request.POST.get("view", "")
    if chosen in VIEWS:
        request.session[VIEW_KEY] = chosen
    outcome = Outcome(change=drafting.current_change(found))
    return _shown(request, found, outcome, focus=f"view-{chosen}")


SPECIAL: dict[str, Callable[[HtmxRequest, Draft], HttpResponse]] = {
    "undo": _undo,
    "redo": _redo,
    "mine": _mine,
    "propose": _propose,
    "view": _view,
}
