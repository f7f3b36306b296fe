"""Builds (one student's copy of a plan) and what was measured for them."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.append_only import AppendOnlyModel, AppendOnlyQuerySet
from projects.models.classes import Membership, ShopClass
from projects.models.fields import FractionField
from projects.models.people import User
from projects.models.plans import Revision


def _own(user: User) -> models.Q:
    """Return what picks somebody's builds in the classes they have not left."""
    classes = Membership.objects.students().filter(user=user).values("shop_class")
    return models.Q(student=user, shop_class__in=classes)


class BuildQuerySet(models.QuerySet["Build"]):
    """Questions about builds."""

    def open_to(self, user: User) -> BuildQuerySet:
        """Return the builds `user` may see: their own, and those of their classes."""
        staffed = ShopClass.objects.staffed_by(user).values("pk")
        return self.filter(_own(user) | models.Q(shop_class__in=staffed))

    def written_by(self, user: User) -> BuildQuerySet:
        """Return the builds `user` may log in: not those of an archived class."""
        staffed = ShopClass.objects.staffed_by(user, "may_log").values("pk")
        return self.filter(
            _own(user) | models.Q(shop_class__in=staffed), shop_class__archived_at=None
        )

    def present(self) -> BuildQuerySet:
        """Leave out the builds of students who have left the class."""
        students = Membership.objects.students().filter(
            shop_class=models.OuterRef("shop_class"), user=models.OuterRef("student")
        )
        return self.filter(models.Exists(students))

    def behind_newest(self) -> BuildQuerySet:
        """Return builds whose plan has a newer revision than theirs."""
        newer = Revision.objects.filter(
            plan=models.OuterRef("revision__plan"),
            number__gt=models.OuterRef("revision__number"),
        )
        return self.filter(models.Exists(newer))

    def with_plan(self) -> BuildQuerySet:
        """Return builds with all that a page names, in one query."""
        return self.select_related("student", "shop_class", "revision__plan")


class Build(models.Model):
    """One student's copy of a plan, on the revision they build from.

    `let_give` is the distance that gives before all others in this build, as agreed for
    the miscut `let_give_for` (a reading's target); both go with the next reading of it.
    """

    shop_class = models.ForeignKey(
        ShopClass, on_delete=models.PROTECT, related_name="builds"
    )
    student = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="builds"
    )
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT)
    let_give = models.CharField(max_length=80, blank=True)
    let_give_for = models.CharField(max_length=100, blank=True)

    objects = BuildQuerySet.as_manager()

    class Meta:
        ordering = ("student__name", "pk")
        constraints = (
            models.UniqueConstraint(
                fields=("shop_class", "student"), name="one_build_a_student"
            ),
        )

    def __str__(self) -> str:
        return f"{self.student}, {self.revision}"


class Reading(AppendOnlyModel):
    """One thing measured, or set aside: followed by newer ones, never changed.

    `target` says what was measured (`stock:poplar34`, `cut:shelf.length`, as the
    engine's `Target` writes it) and `point` which point of it. The newest row of a
    target and point counts; with `mm` empty it says that the point is set aside.
    """

    class Instrument(models.TextChoices):
        """What a length is measured with."""

        TAPE = "tape", _("Tape")
        CALIPER = "caliper", _("Caliper")

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="readings")
    target = models.CharField(max_length=100)
    point = models.PositiveSmallIntegerField()
    typed = models.CharField(max_length=40, blank=True)
    mm = FractionField(null=True)
    unit = models.CharField(max_length=2)
    instrument = models.CharField(max_length=10, choices=Instrument.choices)
    kept_after_second_look = models.BooleanField(default=False)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)

    objects = AppendOnlyQuerySet["Reading"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.target} point {self.point}: {self.typed or 'set aside'}"


class BuildMove(AppendOnlyModel):
    """That a build was moved to another revision, when and by whom."""

    build = models.ForeignKey(Build, on_delete=models.PROTECT, related_name="moves")
    old = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="+")
    new = models.ForeignKey(Revision, on_delete=models.PROTECT, related_name="+")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT)

    objects = AppendOnlyQuerySet["BuildMove"].as_manager()

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"{self.build_id}: {self.old_id} to {self.new_id}"
