"""Who teaches and helps in a class, as a page shows them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from projects.models import RIGHTS, Membership
from projects.staff_forms import RightsForm, right_words


@dataclass(frozen=True, kw_only=True)
class StaffLine:
    """One of the staff; `rights` in words, and the form of an assistant's rights."""

    membership: Membership
    rights: Sequence[str]
    form: RightsForm

    @property
    def teaches(self) -> bool:
        """Tell whether this is an instructor, who may do everything."""
        return self.membership.role == Membership.Role.INSTRUCTOR


def staff_lines(memberships: Sequence[Membership]) -> list[StaffLine]:
    """Return a line each, those who teach first."""
    lines = [
        StaffLine(
            membership=membership,
            rights=_rights(membership),
            form=RightsForm(
                initial={right: getattr(membership, right) for right in RIGHTS},
                auto_id=f"id_{membership.pk}_%s",
            ),
        )
        for membership in memberships
    ]
    return sorted(lines, key=lambda line: (not line.teaches, line.membership.pk))


def _rights(membership: Membership) -> list[str]:
    return [right_words(right) for right in RIGHTS if getattr(membership, right)]
