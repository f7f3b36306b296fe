"""Forms: what people send, read and checked."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from projects.adapters import read_target
from projects.engine.errors import LengthError
from projects.engine.fit.advice import ENDS, Target
from projects.engine.plan.json_text import MAX_BYTES
from projects.engine.plan.readings import MOST_POINTS
from projects.engine.plan.records import Plan
from projects.engine.units import Length, read_length
from projects.models import Reading
from projects.plan_zip import MAX_ZIP_BYTES, is_zip
from projects.words import words


class TargetForm(forms.Form):
    """Name one point of something to measure."""

    target = forms.CharField(max_length=100)
    point = forms.IntegerField(min_value=1, max_value=MOST_POINTS, required=False)

    def __init__(self, *args: Any, plan: Plan, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.plan = plan

    def clean_target(self) -> Target:
        """Return what is measured, where the plan has it."""
        target = read_target(self.cleaned_data["target"], self.plan)
        if target is None:
            raise forms.ValidationError(_("This plan has nothing of that name."))
        return target

    def clean(self) -> dict[str, Any]:
        """A cut has one place, a dry-fit distance or diagonal two, a thickness more."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        target, point = data.get("target"), data.get("point")
        if target is None or target.kind in ("stock", "part"):
            return data
        if target.kind == "cut":
            data["point"] = 1
        elif point is not None:
            data["point"] = min(point, ENDS)
        return data


class ReadingForm(TargetForm):
    """Read one reading; `cleaned_data["length"]` is the exact length."""

    length = forms.CharField(
        max_length=40,
        error_messages={
            "required": _("Type what you read, for example 3/4, 23 5/8 or 0.742.")
        },
    )
    instrument = forms.ChoiceField(choices=Reading.Instrument.choices)
    keep = forms.BooleanField(required=False)

    def clean_length(self) -> Length:
        """Return the length typed, in the plan's unit where none was typed."""
        try:
            return read_length(
                self.cleaned_data["length"],
                unit=self.plan.units,
                field=str(_("What you read")),
            )
        except LengthError as error:
            raise forms.ValidationError(words(error)) from error


class PlanFileForm(forms.Form):
    """Take one plan file, or a zip of one with its pictures, bounded before reading."""

    file = forms.FileField(label=_("Plan file"))

    def clean_file(self) -> bytes:
        """Return the file's bytes."""
        file = self.cleaned_data["file"]
        most = MAX_ZIP_BYTES if is_zip(file.read(4)) else MAX_BYTES
        if file.size > most:
            raise forms.ValidationError(
                _("This file is %(size)d bytes; at most %(most)d are read."),
                params={"size": file.size, "most": most},
            )
        file.seek(0)
        data: bytes = file.read()
        return data


class AcceptanceForm(forms.Form):
    """Accept a finding, or open it again."""

    key = forms.CharField(max_length=400)
    accepted = forms.BooleanField(required=False)
    note = forms.CharField(max_length=200, required=False)
