"""An instructor's shop, and what an instructor said of a check's finding."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

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


class Machine(models.Model):
    """One machine of a shop, or several alike; never deleted, only retired.

    `kind` is a key of the engine's `MACHINES`. `limits` are texts as typed. A step of
    one student takes about `step_minutes` at it, changing its setup `setup_minutes`.
    """

    shop = models.ForeignKey(Shop, on_delete=models.PROTECT, related_name="machines")
    kind = models.CharField(max_length=20)
    name = models.CharField(max_length=60)
    how_many = models.PositiveSmallIntegerField(default=1)
    most_people = models.PositiveSmallIntegerField(default=1)
    step_minutes = models.PositiveSmallIntegerField(default=10)
    setup_minutes = models.PositiveSmallIntegerField(default=5)
    limits = models.JSONField(default=dict, blank=True)
    cautions = models.TextField(max_length=2000, blank=True)
    lapses_after_months = models.PositiveSmallIntegerField(null=True, blank=True)
    pass_mark_pct = models.PositiveSmallIntegerField(default=80)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("name", "pk")

    def __str__(self) -> str:
        return self.name


class MachinePhoto(models.Model):
    """The photo of a machine, re-encoded; in a table of its own, as it is large."""

    machine = models.OneToOneField(
        Machine, on_delete=models.CASCADE, related_name="photo"
    )
    data = models.BinaryField()
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"photo of {self.machine}"


class Requirement(models.Model):
    """What a shop asks before somebody is signed off on a machine.

    Never deleted, only retired: records name it. A record keeps the title it had.
    """

    class Kind(models.TextChoices):
        """What is asked."""

        SHEET = "sheet", _("Read the machine's sheet")
        CHECK = "check", _("Pass the written check")
        DEMONSTRATION = "demonstration", _("Watch a demonstration")
        SUPERVISED_CUT = "supervised_cut", _("Make a supervised cut")
        AGE = "age", _("Age, as law and school policy ask")
        CONSENT = "consent", _("Consent form on file")
        OTHER = "other", _("Something else")

    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="requirements"
    )
    kind = models.CharField(max_length=20, choices=Kind.choices)
    title = models.CharField(max_length=120)
    note = models.CharField(max_length=400, blank=True)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.title


class Question(models.Model):
    """A question of a machine's written check; `right` is the index of its answer."""

    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="questions"
    )
    text = models.CharField(max_length=300)
    choices = models.JSONField()
    right = models.PositiveSmallIntegerField()
    why = models.CharField(max_length=500)
    source = models.CharField(max_length=300)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.text


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
