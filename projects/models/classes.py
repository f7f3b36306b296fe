"""Classes and who belongs to them."""

from __future__ import annotations

from typing import Literal

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from projects.models.people import User
from projects.models.plans import Revision
from projects.models.shops import Shop

Right = Literal["may_log", "may_sign", "may_roster"]
RIGHTS: tuple[Right, ...] = ("may_log", "may_sign", "may_roster")


class ShopClassQuerySet(models.QuerySet["ShopClass"]):
    """Questions about classes."""

    def taught_by(self, user: User) -> ShopClassQuerySet:
        """Return the classes that `user` teaches."""
        return self.filter(
            memberships__user=user,
            memberships__role=Membership.Role.INSTRUCTOR,
            memberships__left_at=None,
        )

    def staffed_by(self, user: User, right: Right | None = None) -> ShopClassQuerySet:
        """Return the classes that `user` teaches, or helps in.

        With `right` an assistant has to have been given it.
        """
        return self.filter(
            pk__in=Membership.objects.staff(right)
            .filter(user=user)
            .values("shop_class")
        )

    def with_rights_of(self, user: User) -> ShopClassQuerySet:
        """Return classes with what `user` may there, for templates to ask.

        `teaches` for an instructor; `may_log`, `may_sign`, `may_roster` as `Membership`
        has them.
        """
        mine = Membership.objects.filter(user=user, shop_class=models.OuterRef("pk"))
        teaches = mine.present().filter(role=Membership.Role.INSTRUCTOR)
        rights = {right: models.Exists(mine.staff(right)) for right in RIGHTS}
        return self.annotate(teaches=models.Exists(teaches), **rights)

    def with_counts(self) -> ShopClassQuerySet:
        """Return classes with their plan and `student_count`, in one query."""
        return self.select_related("revision__plan").annotate(
            student_count=models.Count(
                "memberships",
                filter=models.Q(
                    memberships__role=Membership.Role.STUDENT,
                    memberships__left_at=None,
                ),
            )
        )


class ShopClass(models.Model):
    """A class in which every student builds the same plan.

    It is held in one shop, whose machines and sign-offs count. In an archived class
    nothing is written any more.
    """

    title = models.CharField(max_length=80)
    revision = models.ForeignKey(Revision, on_delete=models.PROTECT)
    shop = models.ForeignKey(Shop, on_delete=models.PROTECT, related_name="classes")
    starts_on = models.DateField(null=True, blank=True)
    ends_on = models.DateField(null=True, blank=True)
    archived_at = models.DateTimeField(null=True, blank=True)

    objects = ShopClassQuerySet.as_manager()

    class Meta:
        ordering = ("title", "pk")

    def __str__(self) -> str:
        return self.title


class Meeting(models.Model):
    """One meeting of a class."""

    shop_class = models.ForeignKey(
        ShopClass, on_delete=models.CASCADE, related_name="meetings"
    )
    starts_at = models.DateTimeField()
    minutes = models.PositiveSmallIntegerField(default=180)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("starts_at", "pk")

    def __str__(self) -> str:
        return f"{self.shop_class}, {self.starts_at:%Y-%m-%d %H:%M}"


class MembershipQuerySet(models.QuerySet["Membership"]):
    """Questions about who belongs to classes."""

    def present(self) -> MembershipQuerySet:
        """Leave out who has left."""
        return self.filter(left_at=None)

    def students(self) -> MembershipQuerySet:
        """Return the students who have not left."""
        return self.present().filter(role=Membership.Role.STUDENT)

    def staff(self, right: Right | None = None) -> MembershipQuerySet:
        """Return instructors, and assistants who were given `right`."""
        assistants = models.Q(role=Membership.Role.ASSISTANT)
        if right is not None:
            assistants &= models.Q((right, True))
        return self.present().filter(
            models.Q(role=Membership.Role.INSTRUCTOR) | assistants
        )


class Membership(models.Model):
    """Who belongs to a class, and as what.

    An assistant sees the class and its builds; the rest they may only as given here.
    An instructor may all of it.
    """

    class Role(models.TextChoices):
        """What somebody is in a class."""

        INSTRUCTOR = "instructor", _("Instructor")
        ASSISTANT = "assistant", _("Assistant")
        STUDENT = "student", _("Student")

    shop_class = models.ForeignKey(
        ShopClass, on_delete=models.CASCADE, related_name="memberships"
    )
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="memberships"
    )
    role = models.CharField(max_length=10, choices=Role.choices)
    may_log = models.BooleanField(
        _("may log readings and steps for students"), default=False
    )
    may_sign = models.BooleanField(_("may sign off on machines"), default=False)
    may_roster = models.BooleanField(
        _("may change the roster and print join cards"), default=False
    )
    left_at = models.DateTimeField(null=True, blank=True)

    objects = MembershipQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("shop_class", "user"), name="one_membership_a_class"
            ),
        )

    def __str__(self) -> str:
        return f"{self.user}, {self.get_role_display()}, {self.shop_class}"

    def may(self, right: Right) -> bool:
        """Tell whether this member of staff has a right."""
        if self.left_at is not None or self.role == self.Role.STUDENT:
            return False
        return self.role == self.Role.INSTRUCTOR or bool(getattr(self, right))
