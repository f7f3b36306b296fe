"""What students did in the shop: steps, raised hands, near misses. Only added to."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.builds import Build
from projects.models.classes import ShopClass
from projects.models.shops import Machine


class StepMark(AppendOnlyModel):
    """That a step was done, or moved back to not done; the newest row counts.

    `machine` is the kind of machine it was done at; `title` the step's as it then was.
    """

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="marks")
    step = models.CharField(max_length=80)
    title = models.CharField(max_length=120)
    done = models.BooleanField()
    machine = models.CharField(max_length=20, blank=True)
    note = models.CharField(max_length=400, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["StepMark"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.title}: {'done' if self.done else 'not done'}"


class Hand(AppendOnlyModel):
    """That a hand was raised for help, or taken down; the newest row counts."""

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="hands")
    raised = models.BooleanField()
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["Hand"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.build_id}: hand {'up' if self.raised else 'down'}"


class NearMiss(AppendOnlyModel):
    """What nearly or really hurt somebody, for the instructors of the class alone.

    `follows` is the entry that this one adds to: nothing is edited.
    """

    class Kind(models.TextChoices):
        """How it ended."""

        NEAR_MISS = "near_miss", _("Near miss")
        INJURY = "injury", _("Injury")
        DAMAGE = "damage", _("Damage to a machine or a tool")

    shop_class = models.ForeignKey(
        ShopClass, on_delete=models.PROTECT, related_name="near_misses"
    )
    follows = models.ForeignKey(
        "self",
        on_delete=models.PROTECT,
        related_name="additions",
        null=True,
        blank=True,
    )
    kind = models.CharField(max_length=10, choices=Kind.choices)
    happened_at = models.DateTimeField()
    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    what = models.TextField(max_length=2000)
    done = models.TextField(max_length=2000)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["NearMiss"].as_manager()

    class Meta:
        ordering = ("happened_at", "pk")
        verbose_name_plural = "near misses"

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {self.happened_at:%Y-%m-%d}"
