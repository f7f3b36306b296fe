"""Plans and their published revisions."""

from __future__ import annotations

from django.conf import settings
from django.db import models

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.people import User


class PlanQuerySet(models.QuerySet["Plan"]):
    """Questions about plans."""

    def with_newest(self) -> PlanQuerySet:
        """Return plans with the number and date of their newest revision."""
        return self.annotate(
            newest_number=models.Max("revisions__number"),
            newest_at=models.Max("revisions__published_at"),
        )

    def editable_by(self, user: User) -> PlanQuerySet:
        """Return the plans `user` may write at: their own and those shared."""
        shared = Plan.editors.through.objects.filter(user=user).values("plan")
        return self.filter(models.Q(owner=user) | models.Q(pk__in=shared))


class Plan(models.Model):
    """A project plan, known by its newest revision."""

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="plans"
    )
    title = models.CharField(max_length=80)
    editors = models.ManyToManyField(
        settings.AUTH_USER_MODEL, related_name="shared_plans"
    )

    objects = PlanQuerySet.as_manager()

    class Meta:
        ordering = ("title", "pk")

    def __str__(self) -> str:
        return self.title


class RevisionQuerySet(AppendOnlyQuerySet["Revision"]):
    """Questions about revisions."""

    def newest_of(self, user: User) -> RevisionQuerySet:
        """Return the newest revision of each plan that `user` owns."""
        newest = self.filter(plan=models.OuterRef("plan")).order_by("-number")
        return self.filter(
            plan__owner=user, pk=models.Subquery(newest.values("pk")[:1])
        ).select_related("plan")


class Revision(AppendOnlyModel):
    """A published plan file, kept to the byte; `number` counts from 1 in its plan."""

    plan = models.ForeignKey(Plan, on_delete=models.PROTECT, related_name="revisions")
    number = models.PositiveIntegerField()
    document = models.TextField()
    published_at = models.DateTimeField()
    published_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)

    objects = RevisionQuerySet.as_manager()

    class Meta:
        ordering = ("plan", "number")
        constraints = (
            models.UniqueConstraint(
                fields=("plan", "number"), name="one_revision_a_number"
            ),
        )

    def __str__(self) -> str:
        return f"{self.plan}, revision {self.number}"
