"""The pick list of published plans."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from projects.models import Revision


class RevisionChoice(forms.ModelChoiceField[Revision]):
    """Choose a plan, told apart from another of its title by when it was published."""

    def label_from_instance(self, obj: Any) -> str:
        """Return the plan's title, the revision, its day and time, and whose it is."""
        revision: Revision = obj
        at = timezone.localtime(revision.published_at)
        return _("%(plan)s, revision %(number)d of %(at)s, %(owner)s") % {
            "plan": revision.plan.title,
            "number": revision.number,
            "at": date_format(at, "DATETIME_FORMAT"),
            "owner": revision.plan.owner.name,
        }
