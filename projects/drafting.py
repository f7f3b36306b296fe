"""Verbs of writing a plan: start, change, undo, redo, publish.

Every state of a draft is kept whole. Two people may write at one draft: each change
says on which state it was made, and where the draft went on meanwhile the two are
merged. Nothing that anybody sent is lost: what is in conflict is kept aside.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from projects import actions
from projects.engine.draft import (
    Document,
    blank,
    merge,
    plan_text,
    read_document,
    take_mine,
)
from projects.engine.draft.records import Merged
from projects.engine.errors import EngineError
from projects.engine.plan.json_text import MAX_BYTES
from projects.engine.units.length import UnitSystem
from projects.models import Draft, DraftChange, Plan, Revision, User

Operation = Callable[[Document], Document]
Naming = Callable[[Document, Document], str]
LONGEST_TITLE = 80
LONGEST_WHAT = 200


class MovedOnError(EngineError):
    """Tell that somebody else changed the draft meanwhile."""


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """Hold where a draft stands after a change.

    `merged` is set where others had changed it meanwhile, and `aside` where some of
    that is in conflict.
    """

    change: DraftChange
    merged: Merged | None = None
    aside: DraftChange | None = None


def start(by: User, *, title: str, units: UnitSystem) -> Draft:
    """Start a plan that is a draft only."""
    with transaction.atomic():
        plan = Plan.objects.create(owner=by, title=title)
        return _begin(plan, by, blank(title, units=units), _("the empty plan"))


def edit(plan: Plan, by: User) -> Draft:
    """Return the plan's draft; where there is none, one of its newest revision."""
    with transaction.atomic():
        draft = Draft.objects.filter(plan=plan).first()
        if draft is not None:
            return draft
        newest = plan.revisions.order_by("number").last()
        if newest is None:
            raise EngineError("this plan has neither a draft nor a revision")
        document = read_document(newest.document)
        what = _("revision %(number)d") % {"number": newest.number}
        return _begin(plan, by, document, what, based_on=newest)


def document_of(change: DraftChange) -> Document:
    """Return the document of one state."""
    document: Document = json.loads(change.document)
    return document


def current_change(draft: Draft) -> DraftChange:
    """Return the state a draft stands at; costs one query."""
    return draft.changes.select_related("by").get(number=draft.current)


def change(
    draft: Draft,
    by: User,
    *,
    based_on: int,
    operation: Operation,
    what: Naming,
) -> Outcome:
    """Change a draft as `operation` does to the state numbered `based_on`.

    Where the draft moved on meanwhile the two changes are merged. Raises
    `EngineError` where the operation can't be done; nothing is written then.
    """
    with transaction.atomic():
        draft, current = _locked(draft)
        if based_on == current.number:
            old = document_of(current)
            new = operation(old)
            return Outcome(change=_step(draft, current, new, by, what(old, new)))
        base = _numbered(draft, based_on)
        old = document_of(base)
        mine = operation(old)
        named = what(old, mine)
        merged = merge(old, mine, document_of(current))
        aside = None
        if merged.conflicts:
            aside = _append(draft, base, mine, by, named, aside=True)
            draft.save(update_fields=["last"])
        made = _step(draft, current, merged.document, by, named)
        return Outcome(change=made, merged=merged, aside=aside)


def merged_with(draft: Draft, aside: int, change: DraftChange) -> Merged:
    """Return how what is kept aside stands to the state `change`; two queries.

    Raises `EngineError` where nothing is kept aside under that number.
    """
    kept = _kept(draft, aside)
    base = _numbered(draft, kept.parent or 0)
    return merge(document_of(base), document_of(kept), document_of(change))


def put_mine(draft: Draft, by: User, *, based_on: int, aside: int, n: int) -> Outcome:
    """Put in what somebody wanted: conflict `n` of what was kept aside."""
    with transaction.atomic():
        draft, current = _locked(draft, based_on=based_on)
        conflicts = merged_with(draft, aside, current).conflicts
        if not 0 <= n < len(conflicts):
            raise EngineError("this is no longer in conflict")
        made = take_mine(document_of(current), conflicts[n])
        step = _step(draft, current, made, by, _kept(draft, aside).what)
        return Outcome(change=step, merged=merged_with(draft, aside, step))


def undo(draft: Draft, *, based_on: int) -> DraftChange:
    """Go back to the state before; return it."""
    with transaction.atomic():
        draft, current = _locked(draft, based_on=based_on)
        if current.parent is None:
            raise EngineError("there is nothing to undo")
        return _go(draft, _numbered(draft, current.parent))


def redo(draft: Draft, *, based_on: int) -> DraftChange:
    """Go forward again to the newest state that followed; return it."""
    with transaction.atomic():
        draft, _ = _locked(draft, based_on=based_on)
        following = next_change(draft)
        if following is None:
            raise EngineError("there is nothing to redo")
        return _go(draft, following)


def next_change(draft: Draft) -> DraftChange | None:
    """Return the state that redo would go to; costs one query."""
    children = draft.changes.filter(parent=draft.current, aside=False)
    return children.order_by("number").last()


def file_of(change: DraftChange) -> str:
    """Return a state as a plan file."""
    return plan_text(document_of(change))


def bring_in(draft: Draft, by: User, *, data: bytes) -> Outcome:
    """Put a plan file in the place of what the draft holds.

    Raises `EngineError` telling all that is wrong with the file.
    """
    document = read_document(data)
    with transaction.atomic():
        draft, current = _locked(draft)
        return Outcome(
            change=_step(draft, current, document, by, _("plan file brought in"))
        )


def publish(draft: Draft, by: User, *, based_on: int) -> Revision:
    """Publish the draft as the plan's next revision; the draft goes on from it.

    Raises `EngineError` telling what is still open.
    """
    with transaction.atomic():
        draft, current = _locked(draft, based_on=based_on)
        data = plan_text(document_of(current)).encode()
        revision = actions.publish_plan(by, data, plan=draft.plan)
        Draft.objects.filter(pk=draft.pk).update(based_on=revision)
        return revision


def share(plan: Plan, username: str) -> User:
    """Let the instructor of this sign-in name write at a plan; return them."""
    found = User.objects.filter(
        username=username.strip().lower(), is_instructor=True, is_active=True
    ).first()
    if found is None:
        raise EngineError(
            "no instructor signs in as {read}", read=username.strip()[:40] or "…"
        )
    if found.pk == plan.owner_id:
        raise EngineError("{name} owns this plan", name=found.name)
    edit(plan, plan.owner)
    plan.editors.add(found)
    return found


def unshare(plan: Plan, username: str) -> None:
    """Let somebody no longer write at a plan."""
    plan.editors.remove(*plan.editors.filter(username=username))


def _begin(
    plan: Plan,
    by: User,
    document: Document,
    what: str,
    *,
    based_on: Revision | None = None,
) -> Draft:
    draft = Draft.objects.create(plan=plan, based_on=based_on)
    _go(draft, _append(draft, None, document, by, what))
    return draft


def _locked(draft: Draft, *, based_on: int | None = None) -> tuple[Draft, DraftChange]:
    """Return the draft as it stands now, held until the transaction ends."""
    held = Draft.objects.select_for_update(of=("self",)).select_related("plan")
    draft = held.get(pk=draft.pk)
    if based_on is not None and based_on != draft.current:
        raise MovedOnError(
            "somebody changed this draft meanwhile: look at it, then do it again"
        )
    return draft, draft.changes.get(number=draft.current)


def _numbered(draft: Draft, number: int) -> DraftChange:
    found = draft.changes.filter(number=number).first()
    if found is None:
        raise EngineError("this draft has no change number {number}", number=number)
    return found


def _kept(draft: Draft, number: int) -> DraftChange:
    kept = _numbered(draft, number)
    if not kept.aside:
        raise EngineError("nothing is kept aside as number {number}", number=number)
    return kept


def _step(
    draft: Draft, current: DraftChange, document: Document, by: User, what: str
) -> DraftChange:
    """Append a state after the current one and go there, if it is another."""
    if document == document_of(current):
        return current
    return _go(draft, _append(draft, current, document, by, what))


def _append(
    draft: Draft,
    parent: DraftChange | None,
    document: Document,
    by: User,
    what: str,
    *,
    aside: bool = False,
) -> DraftChange:
    text = json.dumps(document, separators=(",", ":"))
    if len(text) > MAX_BYTES:
        raise EngineError("a plan is at most 1 MB")
    draft.last += 1
    return DraftChange.objects.create(
        draft=draft,
        number=draft.last,
        parent=parent.number if parent else None,
        document=text,
        what=what[:LONGEST_WHAT],
        aside=aside,
        by=by,
        at=timezone.now(),
    )


def _go(draft: Draft, change: DraftChange) -> DraftChange:
    """Let the draft stand at a state; a plan with nothing published is called so."""
    draft.current = change.number
    draft.save(update_fields=["current", "last"])
    title = str(document_of(change).get("title", "")).strip()[:LONGEST_TITLE]
    plan = draft.plan
    if title and title != plan.title and not plan.revisions.exists():
        plan.title = title
        plan.save(update_fields=["title"])
    return change
