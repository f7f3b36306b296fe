"""The record of who was signed off on which machine: only ever added to."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.shops import Machine, Requirement


class RequirementRecord(AppendOnlyModel):
    """That a student met a requirement, or that this was taken back; the newest counts.

    `title` is the requirement's as it then was; `score` such as "9 of 10". Reading a
    sheet and passing a check are recorded by the student; all else by a signer.
    """

    requirement = models.ForeignKey(
        Requirement, on_delete=models.PROTECT, related_name="records"
    )
    student = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        related_name="requirement_records",
    )
    title = models.CharField(max_length=120)
    met = models.BooleanField()
    score = models.CharField(max_length=20, blank=True)
    note = models.CharField(max_length=400, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["RequirementRecord"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.title}: {'met' if self.met else 'taken back'}"


class CheckTaken(AppendOnlyModel):
    """A written check as it was asked and answered, whole.

    `answers` is a list of `{"text", "choices", "right", "given", "why", "source"}`;
    `given` is an index, or None where nothing was chosen.
    """

    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="checks_taken"
    )
    student = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="checks_taken"
    )
    answers = models.JSONField()
    right = models.PositiveSmallIntegerField()
    asked = models.PositiveSmallIntegerField()
    pass_mark_pct = models.PositiveSmallIntegerField()
    passed = models.BooleanField()
    at = models.DateTimeField()

    objects = AppendOnlyQuerySet["CheckTaken"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.machine}: {self.right} of {self.asked}"


class SignOff(AppendOnlyModel):
    """That somebody was signed off on a machine, or that it was withdrawn.

    The newest row of a student and a machine counts. `note` is the reason where it
    is withdrawn.
    """

    class Act(models.TextChoices):
        """What was done."""

        SIGNED = "signed", _("Signed off")
        RENEWED = "renewed", _("Renewed")
        WITHDRAWN = "withdrawn", _("Withdrawn")

    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="sign_offs"
    )
    student = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="sign_offs"
    )
    act = models.CharField(max_length=10, choices=Act.choices)
    note = models.CharField(max_length=400, blank=True)
    lapses_on = models.DateField(null=True, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["SignOff"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.student}, {self.machine}: {self.get_act_display()}"
