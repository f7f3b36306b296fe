"""What a draft's page answers with: the page, or after a change its live part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode

from projects import drafting
from projects.draft_asides import forget, remember, undecided
from projects.draft_forms import Entry, read_entry
from projects.drafting import Outcome
from projects.engine.errors import EngineError
from projects.http import HtmxRequest, respond, varying, wants_fragment
from projects.models import Draft, DraftChange
from projects.present.draft_meanwhile import Meanwhile, change_lines, meanwhile_of
from projects.present.draft_page import DraftPage, Opened, draft_page, is_faulty
from projects.present.draft_steps import CHOSEN
from projects.showing import SESSION_KEY

VIEW_KEY = "draft_view"
TICKED = ("fits", *CHOSEN, "known_cautions")
NEWS = "meanwhile"
"""What has the focus where others changed something meanwhile."""


def fragment_of(request: HtmxRequest) -> str:
    """Return the template of the part of the page that htmx asks for."""
    return {
        "draft-form": "projects/_draft_form.html",
        "draft-picked": "projects/_draft_picked.html",
        "drawing": "projects/_draft_drawing.html",
    }.get(request.htmx.target or "", "projects/_draft.html")


def opened_in(data: QueryDict) -> Opened | None:
    """Return what `?open=` asks for, with what the address or the form says of it."""
    entry = read_entry(data.get("open", ""))
    if entry is None:
        return None
    return Opened(
        list_name=entry.list_name,
        key=entry.key,
        typed=typed_in(data),
        is_whole="based_on" in data,
        asks_to_remove="sure" in data,
        moved=data.get("moved", ""),
    )


def typed_in(data: QueryDict) -> dict[str, Any]:
    """Return what was typed into a form's fields."""
    typed: dict[str, Any] = {name: data.get(name, "") for name in data}
    if "based_on" in data:
        typed |= {name: data.getlist(name) for name in TICKED}
    return typed


def plainly(entry: Entry) -> Opened:
    """Return an entry's form with what the draft holds."""
    return Opened(list_name=entry.list_name, key=entry.key, typed={})


def told_in(
    request: HtmxRequest, found: Draft, change: DraftChange
) -> Meanwhile | None:
    """Return what a browser without script was sent here to be told of a change."""
    aside, since = (_number(request.GET.get(name, "")) for name in ("aside", "since"))
    try:
        if aside:
            merged = drafting.merged_with(found, aside, change)
            made = meanwhile_of(merged, aside, drafting.document_of(change))
            return made if made.conflicts else None
        if since:
            theirs = drafting.theirs_since(found, since, change)
            return Meanwhile(theirs=change_lines(theirs, drafting.document_of(change)))
    except EngineError as error:
        raise Http404 from error
    return None


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 10 else 0


def meanwhiles(
    request: HtmxRequest,
    found: Draft,
    change: DraftChange,
    news: Meanwhile | None = None,
) -> tuple[Meanwhile, ...]:
    """Return the news and what of one's own is undecided; each costs two queries."""
    made = [news] if news else []
    for number in undecided(request, found):
        if news and number == news.aside:
            continue
        try:
            merged = drafting.merged_with(found, number, change)
        except EngineError:
            # remembered of a draft that is there no more
            forget(request, found, number)
            continue
        document = drafting.document_of(change)
        one = meanwhile_of(merged, number, document, is_news=False)
        if one.is_undecided:
            made.append(one)
        else:
            forget(request, found, number)
    return tuple(made)


def news_of(
    request: HtmxRequest, found: Draft, outcome: Outcome, *, theirs: bool = True
) -> Meanwhile | None:
    """Return what a change met with, and remember what of it is undecided."""
    if outcome.merged is None:
        return None
    made = meanwhile_of(
        outcome.merged,
        outcome.aside.number if outcome.aside else None,
        drafting.document_of(outcome.change),
        is_news=theirs,
    )
    if made.aside and made.is_undecided:
        remember(request, found, made.aside)
    return made if made.theirs or made.conflicts else None


def shown(
    request: HtmxRequest,
    found: Draft,
    outcome: Outcome,
    *,
    at: Entry | None = None,
    opened: Opened | None = None,
    focus: str = "",
    news: Meanwhile | None = None,
) -> HttpResponse:
    """Show a draft after a change; a browser without script is sent there.

    The entry `at` stays open where something typed there can't be read.
    """
    if at and not opened and is_faulty(outcome.change, at.list_name, at.key):
        opened = plainly(at)
    focus = focus or (str(at) if at else "")
    if not wants_fragment(request):
        return _sent_on(request, found, opened, focus, news)
    page = page_of(
        request,
        found,
        outcome.change,
        opened=opened,
        focus=NEWS if news else "" if opened else focus,
        meanwhile=meanwhiles(request, found, outcome.change, news),
    )
    context = {"page": page, "draft": found}
    return varying(render(request, fragment_of(request), context))


def _sent_on(
    request: HtmxRequest,
    found: Draft,
    opened: Opened | None,
    focus: str,
    news: Meanwhile | None,
) -> HttpResponse:
    asked: dict[str, Any] = {"at": focus}
    if opened:
        asked |= opened.typed
        asked |= {"open": f"{opened.list_name}:{opened.key}", "moved": opened.moved}
    if news:
        # what was typed was based on the state since which others changed something
        asked |= {"aside": news.aside or ""}
        asked |= {} if news.aside else {"since": request.POST.get("based_on", "")}
    query = urlencode({name: value for name, value in asked.items() if value})
    anchor = f"#{NEWS}" if news else ""
    return redirect(f"{reverse('draft', args=[found.plan_id])}?{query}{anchor}")


def refused(
    request: HtmxRequest, found: Draft, data: QueryDict, errors: dict[str, str]
) -> HttpResponse:
    """Show the form again with what was typed and why it was refused."""
    change = drafting.current_change(found)
    entry = read_entry(data.get("entry", ""))
    told = {name: [words] for name, words in errors.items()}
    page = None
    kept = meanwhiles(request, found, change)
    if entry is not None:
        opened = replace(plainly(entry), typed=typed_in(data), errors=told)
        opened = replace(opened, is_whole=True)
        page = page_of(request, found, change, opened=opened, meanwhile=kept)
    if page is None or page.form is None:
        page = page_of(
            request, found, change, meanwhile=kept, refusal=list(errors.values())
        )
    context = {"page": page, "draft": found}
    return respond(
        request,
        "projects/draft_detail.html",
        "projects/_draft.html",
        context,
        status=422,
    )


def page_of(
    request: HtmxRequest,
    found: Draft,
    change: DraftChange,
    *,
    opened: Opened | None = None,
    focus: str = "",
    pick: Sequence[str] = (),
    meanwhile: Sequence[Meanwhile] = (),
    refusal: Sequence[str] = (),
) -> DraftPage:
    """Return the page of a state of a draft."""
    found.current = change.number
    following = drafting.next_change(found)
    return draft_page(
        change,
        redoes=following.what if following else "",
        shown_as=str(request.session.get(SESSION_KEY, "")),
        view=str(request.session.get(VIEW_KEY, "front")),
        published=found.based_on,
        opened=opened,
        focus=focus,
        pick=pick,
        meanwhile=meanwhile,
        refusal=refusal,
    )
