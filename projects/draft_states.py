"""The states a draft has been in: reading them, adding one, going to one."""

from __future__ import annotations

import json

from django.utils import timezone

from projects.engine.draft import Document
from projects.engine.errors import EngineError
from projects.engine.plan.json_text import MAX_BYTES
from projects.models import Draft, DraftChange, User

LONGEST_TITLE = 80
LONGEST_WHAT = 200


class MovedOnError(EngineError):
    """Tell that somebody else changed the draft meanwhile."""


def document_of(change: DraftChange) -> Document:
    """Return the document of one state."""
    document: Document = json.loads(change.document)
    return document


def current_change(draft: Draft) -> DraftChange:
    """Return the state a draft stands at; costs one query."""
    return draft.changes.select_related("by").get(number=draft.current)


def next_change(draft: Draft) -> DraftChange | None:
    """Return the state that redo would go to; costs one query."""
    children = draft.changes.filter(parent=draft.current, aside=False)
    return children.order_by("number").last()


def locked(draft: Draft, *, based_on: int | None = None) -> tuple[Draft, DraftChange]:
    """Return the draft as it stands now, held until the transaction ends."""
    held = Draft.objects.select_for_update(of=("self",)).select_related("plan")
    draft = held.get(pk=draft.pk)
    if based_on is not None and based_on != draft.current:
        raise MovedOnError(
            "somebody changed this draft meanwhile: look at it, then do it again"
        )
    return draft, draft.changes.get(number=draft.current)


def numbered(draft: Draft, number: int) -> DraftChange:
    found = draft.changes.filter(number=number).first()
    if found is None:
        raise EngineError("this draft has no change number {number}", number=number)
    return found


def kept_aside(draft: Draft, number: int) -> DraftChange:
    kept = numbered(draft, number)
    if not kept.aside:
        raise EngineError("nothing is kept aside as number {number}", number=number)
    return kept


def step(
    draft: Draft, current: DraftChange, document: Document, by: User, what: str
) -> DraftChange:
    """Append a state after the current one and go there, if it is another."""
    if document == document_of(current):
        return current
    return go(draft, append(draft, current, document, by, what))


def append(
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


def go(draft: Draft, change: DraftChange) -> DraftChange:
    """Let the draft stand at a state; a plan with nothing published is called so."""
    draft.current = change.number
    draft.save(update_fields=["current", "last"])
    title = str(document_of(change).get("title", "")).strip()[:LONGEST_TITLE]
    plan = draft.plan
    if title and title != plan.title and not plan.revisions.exists():
        plan.title = title
        plan.save(update_fields=["title"])
    return change
