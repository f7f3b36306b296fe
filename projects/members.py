"""Who is in a class, as far as somebody on its staff may know and change it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Exists, OuterRef, Q, QuerySet

from projects.models import Membership, ShopClass, User
from projects.roster import is_code, shown_code

Role = Membership.Role


@dataclass(frozen=True, kw_only=True)
class Member:
    """One student or assistant of a class, as one viewer may see them.

    `is_guarded` is who teaches or helps where the viewer does not teach, or built in
    another class first whose roster is not the viewer's: a new card would open what
    the viewer may not see. `sees_codes` is the viewer's right.
    """

    membership: Membership
    is_guarded: bool
    sees_codes: bool

    @property
    def person(self) -> User:
        """Return who it is."""
        return self.membership.user

    @property
    def has_left(self) -> bool:
        """Tell whether they are in the class no more."""
        return self.membership.left_at is not None

    @property
    def is_student(self) -> bool:
        """Tell whether they are a student of the class; assistants have cards too."""
        return self.membership.role == Role.STUDENT

    @property
    def code(self) -> str:
        """Return the code of their card; "" for who has none, or none to show."""
        is_shown = self.sees_codes and not self.is_guarded and not self.has_left
        return (
            self.person.username if is_shown and is_code(self.person.username) else ""
        )

    @property
    def shown_code(self) -> str:
        """Return the code in two groups, as it is printed."""
        return shown_code(self.code)

    @property
    def has_password(self) -> bool:
        """Tell whether they sign in with a name and a password, without a card."""
        return not is_code(self.person.username)

    @property
    def may_change(self) -> bool:
        """Tell whether the viewer may rename them and give them a new card."""
        return self.sees_codes and not self.is_guarded


def members_of(shop_class: ShopClass, viewer: User) -> list[Member]:
    """Return the class's students and assistants by name; costs one query.

    `shop_class` comes from a gate, which has put the viewer's rights on it.
    """
    rows = _rows(shop_class, viewer).order_by("user__name", "pk")
    return [_member(shop_class, row) for row in rows]


def member(shop_class: ShopClass, viewer: User, person: int) -> Member | None:
    """Return one student or assistant of the class; costs one query."""
    # by `user__pk`: a number too large for any row then finds none
    row = _rows(shop_class, viewer).filter(user__pk=person).first()
    return None if row is None else _member(shop_class, row)


def students_elsewhere(shop_class: ShopClass, viewer: User) -> QuerySet[User]:
    """Return students of the viewer's other classes who were never in this one."""
    others = ShopClass.objects.staffed_by(viewer, "may_roster").exclude(
        pk=shop_class.pk
    )
    students = Membership.objects.students().filter(shop_class__in=others.values("pk"))
    known = Membership.objects.filter(shop_class=shop_class).values("user")
    found = User.objects.filter(pk__in=students.values("user"))
    return found.exclude(pk__in=known).order_by("name", "pk")


def with_cards(members: Sequence[Member]) -> list[Member]:
    """Return the members whose card can be printed."""
    return [member for member in members if member.code]


def _rows(shop_class: ShopClass, viewer: User) -> QuerySet[Membership]:
    taught = ShopClass.objects.taught_by(viewer).values("pk")
    staff_elsewhere = (
        Membership.objects.staff()
        .filter(user=OuterRef("user"))
        .exclude(shop_class__in=taught)
    )
    rosters = ShopClass.objects.staffed_by(viewer, "may_roster").values("pk")
    # of two classes that share a student the first one keeps the card: one has to
    built_before = (
        Membership.objects.students()
        .filter(user=OuterRef("user"), pk__lt=OuterRef("pk"))
        .filter(shop_class__archived_at=None)
        .exclude(shop_class__in=rosters)
    )
    return (
        Membership.objects.filter(shop_class=shop_class)
        .exclude(role=Role.INSTRUCTOR)
        .select_related("user")
        .annotate(
            is_guarded=Q(user__is_instructor=True)
            | Exists(staff_elsewhere)
            | Exists(built_before)
        )
    )


def _member(shop_class: ShopClass, row: Membership) -> Member:
    return Member(
        membership=row,
        is_guarded=bool(getattr(row, "is_guarded")),  # noqa: B009 - of the query
        sees_codes=bool(getattr(shop_class, "may_roster")),  # noqa: B009 - the gate's
    )
