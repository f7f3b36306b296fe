"""Ways out of a miscut: what a student proposed, what an instructor decided."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.builds import Build, Reading


class WayOut(AppendOnlyModel):
    """A way out of a miscut that a student proposes.

    `reading` is how the part came out. `details` holds what the way needs: the spare
    stock, the distance that gives, or the part that it still serves as.
    """

    class Kind(models.TextChoices):
        """What is proposed."""

        CUT_AGAIN = "cut_again", _("Cut the part again")
        LET_GIVE = "let_give", _("Let a wanted dimension give")
        USE_AS = "use_as", _("Use the part elsewhere")

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="ways_out")
    reading = models.ForeignKey(Reading, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=10, choices=Kind.choices)
    details = models.JSONField(default=dict)
    note = models.CharField(max_length=400, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["WayOut"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.reading.target}: {self.get_kind_display()}"


class Decision(AppendOnlyModel):
    """What an instructor decided on a proposal; the newest row counts."""

    way_out = models.ForeignKey(
        WayOut, on_delete=models.PROTECT, related_name="decisions"
    )
    agreed = models.BooleanField()
    note = models.CharField(max_length=400, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet["Decision"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.way_out}: {'agreed' if self.agreed else 'not agreed'}"
