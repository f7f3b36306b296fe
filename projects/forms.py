"""Forms: what people send, read and checked."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from projects.adapters import read_target
from projects.engine.errors import LengthError
from projects.engine.fit.advice import Target
from projects.engine.plan.json_text import MAX_BYTES
from projects.engine.plan.readings import MOST_POINTS
from projects.engine.plan.records import Plan
from projects.engine.units import Length, read_length
from projects.models import Reading, Revision, User
from projects.roster import LONGEST_NAME, MOST_STUDENTS, is_printable, read_roster
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
        """Only a thickness has several places; all else has one."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        target = data.get("target")
        if target is not None and target.fact is not None:
            data["point"] = 1
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
    """Take one plan file, bounded before it is read."""

    file = forms.FileField(label=_("Plan file"))

    def clean_file(self) -> bytes:
        """Return the file's bytes; a plan is at most 1 MB."""
        file = self.cleaned_data["file"]
        if file.size > MAX_BYTES:
            raise forms.ValidationError(
                _("This file is %(size)d bytes; a plan is at most 1 MB."),
                params={"size": file.size},
            )
        data: bytes = file.read()
        return data


class ClassForm(forms.Form):
    """Open a class: its title, the plan everybody builds, and who is in it."""

    title = forms.CharField(label=_("Class"), max_length=80)
    revision = forms.ModelChoiceField(
        label=_("Plan"), queryset=Revision.objects.none(), empty_label=None
    )
    roster = forms.CharField(
        label=_("Students, one name a line"), widget=forms.Textarea(attrs={"rows": 12})
    )

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choice = self.fields["revision"]
        if isinstance(choice, forms.ModelChoiceField):
            choice.queryset = Revision.objects.newest_of(user)

    def clean_roster(self) -> list[str]:
        """Return the names typed."""
        names = read_roster(self.cleaned_data["roster"])
        if len(names) > MOST_STUDENTS:
            raise forms.ValidationError(
                _("A class has at most %(most)d students; %(n)d names were read."),
                params={"most": MOST_STUDENTS, "n": len(names)},
            )
        for name in names:
            if not is_printable(name):
                raise forms.ValidationError(
                    _("This name holds a sign that can't be printed: %(name)r"),
                    params={"name": name[:LONGEST_NAME]},
                )
            if len(name) > LONGEST_NAME:
                raise forms.ValidationError(
                    _("A name has at most %(most)d letters; this was read: %(name)s"),
                    params={"most": LONGEST_NAME, "name": name[:LONGEST_NAME]},
                )
        return names
