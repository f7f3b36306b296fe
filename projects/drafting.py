"""Verbs of writing a plan: start, change, undo, redo, publish.

Every state of a draft is kept whole. Two people may write at one draft: each change
says on which state it was made, and where the draft went on meanwhile the two are
merged. Nothing that anybody sent is lost: what is in conflict is kept aside.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from django.db import transaction
from django.utils.translation import gettext as _

from projects import actions
from projects.draft_states import (
    MovedOnError,
    append,
    current_change,
    document_of,
    go,
    kept_aside,
    locked,
    next_change,
    numbered,
    step,
)
from projects.engine.draft import (
    Change,
    Conflict,
    Document,
    blank,
    differences,
    merge,
    plan_text,
    read_document,
    take_mine,
)
from projects.engine.draft.records import Merged
from projects.engine.errors import EngineError
from projects.engine.units.length import UnitSystem
from projects.models import Draft, DraftChange, Plan, Revision, User

__all__ = [
    "MovedOnError",
    "NothingNewError",
    "Outcome",
    "bring_in",
    "change",
    "current_change",
    "document_of",
    "edit",
    "file_of",
    "merged_with",
    "next_change",
    "publish",
    "put_mine",
    "redo",
    "share",
    "start",
    "theirs_since",
    "undo",
    "unshare",
]

Operation = Callable[[Document], Document]
Naming = Callable[[Document, Document], str]


class NothingNewError(EngineError):
    """Tell that a draft is what the plan's newest revision is already."""


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
        draft, current = locked(draft)
        if based_on == current.number:
            old = document_of(current)
            new = operation(old)
            return Outcome(change=step(draft, current, new, by, what(old, new)))
        base = numbered(draft, based_on)
        old = document_of(base)
        mine = operation(old)
        named = what(old, mine)
        merged = merge(old, mine, document_of(current))
        aside = None
        if merged.conflicts:
            aside = append(draft, base, mine, by, named, aside=True)
            draft.save(update_fields=["last"])
        made = step(draft, current, merged.document, by, named)
        return Outcome(change=made, merged=merged, aside=aside)


def merged_with(draft: Draft, aside: int, change: DraftChange) -> Merged:
    """Return how what is kept aside stands to the state `change`; two queries.

    Raises `EngineError` where nothing is kept aside under that number.
    """
    kept = kept_aside(draft, aside)
    base = numbered(draft, kept.parent or 0)
    return merge(document_of(base), document_of(kept), document_of(change))


def put_mine(
    draft: Draft, by: User, *, based_on: int, aside: int, place: str
) -> Outcome:
    """Put in what somebody wanted: the conflict at `place` of what was kept aside.

    It goes into the newest state, whatever else was changed since the state numbered
    `based_on`. Raises `MovedOnError` where the same was changed once more since.
    """
    with transaction.atomic():
        draft, current = locked(draft)
        merged = merged_with(draft, aside, current)
        conflict = _conflict(merged, place)
        if conflict is None:
            raise EngineError("this is no longer in conflict")
        if based_on != current.number:
            seen = merged_with(draft, aside, numbered(draft, based_on))
            before = _conflict(seen, place)
            if before is None or before.theirs != conflict.theirs:
                raise MovedOnError(
                    "this was changed once more: look at it, then put yours in"
                )
        kept = kept_aside(draft, aside)
        if conflict.stays and conflict.mine is not None:
            # they took it out since; with it comes back what was tied to it
            made = merged.document
        else:
            made = take_mine(document_of(current), conflict)
        done = step(draft, current, made, by, kept.what)
        left = merged_with(draft, aside, done)
        return Outcome(change=done, merged=left, aside=kept if left.conflicts else None)


def _conflict(merged: Merged, place: str) -> Conflict | None:
    return next((one for one in merged.conflicts if one.place == place), None)


def theirs_since(draft: Draft, number: int, made: DraftChange) -> tuple[Change, ...]:
    """Return what others changed from the state `number` until `made` was made.

    Costs two queries. Raises `EngineError` for a state that there isn't.
    """
    before = numbered(draft, made.parent or 0)
    return differences(document_of(numbered(draft, number)), document_of(before))


def undo(draft: Draft, *, based_on: int) -> DraftChange:
    """Go back to the state before; return it."""
    with transaction.atomic():
        draft, current = locked(draft, based_on=based_on)
        if current.parent is None:
            raise EngineError("there is nothing to undo")
        return go(draft, numbered(draft, current.parent))


def redo(draft: Draft, *, based_on: int) -> DraftChange:
    """Go forward again to the newest state that followed; return it."""
    with transaction.atomic():
        draft, _ = locked(draft, based_on=based_on)
        following = next_change(draft)
        if following is None:
            raise EngineError("there is nothing to redo")
        return go(draft, following)


def file_of(change: DraftChange) -> str:
    """Return a state as a plan file."""
    return plan_text(document_of(change))


def bring_in(draft: Draft, by: User, *, data: bytes) -> Outcome:
    """Put a plan file in the place of what the draft holds.

    Raises `EngineError` telling all that is wrong with the file.
    """
    document = read_document(data)
    with transaction.atomic():
        draft, current = locked(draft)
        return Outcome(
            change=step(draft, current, document, by, _("plan file brought in"))
        )


def publish(draft: Draft, by: User, *, based_on: int) -> Revision:
    """Publish the draft as the plan's next revision; the draft goes on from it.

    Raises `EngineError` telling what is still open, and `NothingNewError` where it
    would be the newest revision once more.
    """
    with transaction.atomic():
        draft, current = locked(draft, based_on=based_on)
        text = plan_text(document_of(current))
        newest = draft.plan.revisions.order_by("number").last()
        if newest and plan_text(read_document(newest.document)) == text:
            raise NothingNewError(
                "nothing changed since revision {number}", number=newest.number
            )
        revision = actions.publish_plan(by, text.encode(), plan=draft.plan)
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
    go(draft, append(draft, None, document, by, what))
    return draft
