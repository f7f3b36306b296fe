"""Forms of a build's steps: marking one, and raising a hand."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

YES_NO = [("1", _("Yes")), ("0", _("No"))]
HELP_WANTED = (_("Check my setup"), _("A sign-off"), _("Something is wrong"))
"""What a hand is most often raised for, each a button of its own."""


class StepMarkForm(forms.Form):
    """Say that a step is done, or not; `page` is the one that it was said on."""

    done = forms.ChoiceField(choices=YES_NO)
    machine = forms.CharField(max_length=20, required=False)
    note = forms.CharField(
        max_length=400,
        required=False,
        error_messages={"max_length": _("At most 400 characters.")},
    )
    page = forms.ChoiceField(choices=[("step", ""), ("steps", "")], required=False)

    def clean_done(self) -> bool:
        """Return whether it is done."""
        return bool(self.cleaned_data["done"] == "1")


class HandForm(forms.Form):
    """Raise a hand or take it down; a `quick` button says what for.

    `step` is the step on whose page it was said.
    """

    raised = forms.ChoiceField(choices=YES_NO)
    note = forms.CharField(
        max_length=200,
        required=False,
        error_messages={"max_length": _("At most 200 characters.")},
    )
    quick = forms.CharField(max_length=200, required=False)
    step = forms.SlugField(max_length=80, required=False)

    def clean_raised(self) -> bool:
        """Return whether it is up."""
        return bool(self.cleaned_data["raised"] == "1")

    def clean(self) -> dict[str, Any]:
        """Put what was typed behind what the button says."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        said = (data.get("quick", ""), data.get("note", ""))
        data["words"] = ": ".join(text for text in said if text)[:200]
        return data
