"""Pictures of a plan's steps, kept in the database so that one copy is a backup."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.plans import Plan


class PlanPicture(AppendOnlyModel):
    """A picture under a name that holds its digest: one name is always one picture."""

    plan = models.ForeignKey(Plan, on_delete=models.PROTECT, related_name="pictures")
    name = models.CharField(max_length=80)
    data = models.BinaryField()
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)

    objects = AppendOnlyQuerySet["PlanPicture"].as_manager()

    class Meta:
        ordering = ("plan", "name")
        constraints = (
            models.UniqueConstraint(fields=("plan", "name"), name="one_picture_a_name"),
        )

    def __str__(self) -> str:
        return f"{self.name} of {self.plan}"
