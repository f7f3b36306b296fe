"""An instructor's shop, and what an instructor said of a check's finding."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.plans import Plan


class Shop(models.Model):
    """What one instructor's shop takes and allows, as typed; see `shops.FIELDS`."""

    owner = models.OneToOneField(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="shop"
    )
    limits = models.JSONField(default=dict)

    def __str__(self) -> str:
        return f"the shop of {self.owner}"


class Acceptance(AppendOnlyModel):
    """That an instructor accepts a finding, or no longer does; the newest counts."""

    plan = models.ForeignKey(Plan, on_delete=models.PROTECT, related_name="acceptances")
    key = models.CharField(max_length=400)
    accepted = models.BooleanField()
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)

    objects = AppendOnlyQuerySet["Acceptance"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.key}: {'accepted' if self.accepted else 'open again'}"
