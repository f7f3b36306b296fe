"""Forms of a meeting's page: one tap each."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from projects.models import Presence


class PresenceForm(forms.Form):
    """Say whether a student is there."""

    build = forms.IntegerField(min_value=1)
    state = forms.ChoiceField(
        choices=Presence.State.choices,
        error_messages={"required": _("Choose whether they are here, late or away.")},
    )


class OutageForm(forms.Form):
    """Say that a machine is down, or runs again."""

    machine = forms.IntegerField(min_value=1)
    down = forms.ChoiceField(choices=[("1", _("Down")), ("0", _("Runs"))])
    note = forms.CharField(max_length=200, required=False)

    def clean_down(self) -> bool:
        """Return whether it is down."""
        return bool(self.cleaned_data["down"] == "1")


class PlanForm(forms.Form):
    """Ask for a plan; `long` takes longer to find a better one."""

    long = forms.BooleanField(required=False)
