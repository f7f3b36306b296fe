"""Drafts: plans being written, with every change that was made to them."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.plans import Plan, Revision


class DraftQuerySet(models.QuerySet["Draft"]):
    """Questions about drafts."""

    def with_newest(self) -> DraftQuerySet:
        """Return drafts with `newest_number`, that of their plan's newest revision."""
        return self.annotate(newest_number=models.Max("plan__revisions__number"))


class Draft(models.Model):
    """A plan being written; `current` is the number of the change it stands at.

    `last` is the number of its newest change.
    """

    plan = models.OneToOneField(Plan, on_delete=models.PROTECT, related_name="draft")
    current = models.PositiveIntegerField(default=0)
    last = models.PositiveIntegerField(default=0)
    based_on = models.ForeignKey(
        Revision, on_delete=models.PROTECT, null=True, related_name="+"
    )

    objects = DraftQuerySet.as_manager()

    def __str__(self) -> str:
        return f"{self.plan}, draft at change {self.current}"


class DraftChange(AppendOnlyModel):
    """One state of a draft, whole, and what led to it from the state `parent`.

    Undo goes to the parent, redo to the newest child. What somebody wanted while
    somebody else changed the same is kept `aside`: no step of undo or redo.
    """

    draft = models.ForeignKey(Draft, on_delete=models.PROTECT, related_name="changes")
    number = models.PositiveIntegerField()
    parent = models.PositiveIntegerField(null=True)
    document = models.TextField()
    what = models.CharField(max_length=200)
    aside = models.BooleanField(default=False)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)
    at = models.DateTimeField()

    objects = AppendOnlyQuerySet["DraftChange"].as_manager()

    class Meta:
        ordering = ("draft", "number")
        constraints = (
            models.UniqueConstraint(
                fields=("draft", "number"), name="one_draft_change_a_number"
            ),
        )

    def __str__(self) -> str:
        return f"{self.number}: {self.what}"
