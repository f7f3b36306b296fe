"""Forms: what people send, read and checked."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from projects import shops
from projects.adapters import read_target
from projects.engine.errors import EngineError, LengthError
from projects.engine.fit.advice import Target
from projects.engine.plan.json_text import MAX_BYTES
from projects.engine.plan.readings import MOST_POINTS
from projects.engine.plan.records import Plan
from projects.engine.units import Length, read_length
from projects.models import Reading, Revision, User
from projects.plan_zip import MAX_ZIP_BYTES, is_zip
from projects.roster import LONGEST_NAME, MOST_STUDENTS, is_printable, read_roster
from projects.words import lines, words


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
        newest = Revision.objects.newest_of(user)
        self.has_plans = newest.exists()
        choice = self.fields["revision"]
        if isinstance(choice, forms.ModelChoiceField):
            choice.queryset = newest

    def clean_roster(self) -> list[str]:
        """Return the names typed."""
        names = read_roster(self.cleaned_data["roster"])
        if len(names) > MOST_STUDENTS:
            raise forms.ValidationError(
                _("A class has at most %(most)d students; %(n)d names were read."),
                params={"most": MOST_STUDENTS, "n": len(names)},
            )
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise forms.ValidationError(
                _(
                    "This name stands here twice: %(name)s. Add a letter to tell them "
                    "apart."
                ),
                params={"name": ", ".join(twice)},
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


class ShopForm(forms.Form):
    """Say what a shop takes; every field may stay empty for the usual limit."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in shops.MACHINES:
            self.fields[f"{name}_missing"] = forms.BooleanField(required=False)
            for side in shops.SIDES:
                self.fields[f"{name}_{side}"] = LengthText(required=False)
        for field in shops.FIELDS:
            kind = LengthText if field.kind == "length" else NumberText
            self.fields[field.name] = kind(required=False, label=field.label)

    def clean(self) -> dict[str, Any]:
        """Refuse limits that make no sense together."""
        data = {k: v for k, v in (super().clean() or {}).items() if v}
        if not self.errors:
            try:
                shops.read_limits(data)
            except EngineError as error:
                raise forms.ValidationError(lines(error)) from error
        return data


class LengthText(forms.CharField):
    """A length kept as it was typed, once it can be read."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(max_length=40, **kwargs)

    def clean(self, value: Any) -> str:
        """Return the text; refuse what is no length."""
        text: str = super().clean(value)
        if text:
            try:
                read_length(text, field=str(self.label or _("Length")))
            except LengthError as error:
                raise forms.ValidationError(words(error)) from error
        return text


class NumberText(forms.DecimalField):
    """A number above 0, kept as text so that it stays exact."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(min_value=0, max_digits=8, **kwargs)

    def clean(self, value: Any) -> str:
        """Return the number's text; "" for none."""
        number = super().clean(value)
        return "" if number is None else format(number.normalize(), "f")


class AcceptanceForm(forms.Form):
    """Accept a finding, or open it again."""

    key = forms.CharField(max_length=400)
    accepted = forms.BooleanField(required=False)
    note = forms.CharField(max_length=200, required=False)
