"""Classes and who belongs to them."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.people import User
from projects.models.plans import Revision


class ShopClassQuerySet(models.QuerySet["ShopClass"]):
    """Questions about classes."""

    def taught_by(self, user: User) -> ShopClassQuerySet:
        """Return the classes that `user` teaches."""
        return self.filter(
            memberships__user=user, memberships__role=Membership.Role.INSTRUCTOR
        )

    def with_counts(self) -> ShopClassQuerySet:
        """Return classes with their plan and `student_count`, in one query."""
        return self.select_related("revision__plan").annotate(
            student_count=models.Count("builds")
        )


class ShopClass(models.Model):
    """A class in which every student builds the same plan."""

    title = models.CharField(max_length=80)
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT)

    objects = ShopClassQuerySet.as_manager()

    class Meta:
        ordering = ("title", "pk")

    def __str__(self) -> str:
        return self.title


class Membership(models.Model):
    """Who belongs to a class, and as what."""

    class Role(models.TextChoices):
        """What somebody is in a class."""

        INSTRUCTOR = "instructor", _("Instructor")
        STUDENT = "student", _("Student")

    shop_class = models.ForeignKey(
        ShopClass, on_delete=models.CASCADE, related_name="memberships"
    )
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="memberships"
    )
    role = models.CharField(max_length=10, choices=Role.choices)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("shop_class", "user"), name="one_membership_a_class"
            ),
        )

    def __str__(self) -> str:
        return f"{self.user}, {self.get_role_display()}, {self.shop_class}"
