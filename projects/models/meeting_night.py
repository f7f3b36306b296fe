"""What happens at a meeting: who is there, what is set up, who does what next."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.builds import Build
from projects.models.classes import Meeting, ShopClass
from projects.models.shops import Machine


class Presence(AppendOnlyModel):
    """Whether a student is at a meeting; the newest row counts, none says present."""

    class State(models.TextChoices):
        """Whether somebody is there."""

        PRESENT = "present", _("Here")
        LATE = "late", _("Comes later")
        AWAY = "away", _("Away")

    meeting = models.ForeignKey(
        Meeting, on_delete=models.PROTECT, related_name="presences"
    )
    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="presences")
    state = models.CharField(max_length=10, choices=State.choices)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["Presence"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.build_id}: {self.get_state_display()}"


class Outage(AppendOnlyModel):
    """That a machine is down, or runs again; the newest row counts."""

    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="outages"
    )
    down = models.BooleanField()
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["Outage"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.machine}: {'down' if self.down else 'runs'}"


class RunSheet(AppendOnlyModel):
    """A run sheet as it was made: who was put into which setup of a machine.

    `setups` is a list of `{"key", "at", "builds"}`, lengths as texts of exact
    millimetres, `builds` each with its steps and pieces; it says later who was moved
    by a reading that came after.
    """

    shop_class = models.ForeignKey(
        ShopClass, on_delete=models.PROTECT, related_name="run_sheets"
    )
    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, related_name="run_sheets"
    )
    setups = models.JSONField()
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["RunSheet"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.machine}, {self.at:%Y-%m-%d %H:%M}"


class CutMark(AppendOnlyModel):
    """That a setting of a step was cut for a student, or not after all.

    `setting` is the engine's key of it with the piece; the newest row counts.
    """

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="cut_marks")
    step = models.CharField(max_length=80)
    setting = models.CharField(max_length=400)
    done = models.BooleanField()
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["CutMark"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.setting}: {'cut' if self.done else 'not cut'}"


class MeetingPlan(AppendOnlyModel):
    """Who does what next at a meeting, as it was planned; the newest row counts.

    `turns` is a list of `{"build", "step", "machine", "unit", "place", "start", "end"}`
    in minutes from `at`, `place` being the machine's name as it then was; `bound` and
    `value` tell how good it is proved to be.
    """

    meeting = models.ForeignKey(
        Meeting, on_delete=models.PROTECT, related_name="meeting_plans"
    )
    turns = models.JSONField()
    value = models.FloatField()
    bound = models.FloatField()
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["MeetingPlan"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.meeting}, planned {self.at:%H:%M}"
