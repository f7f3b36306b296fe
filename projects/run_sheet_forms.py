"""Forms of a run sheet: how far each number may be off, and what was cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from django import forms
from django.utils.translation import gettext_lazy as _

from projects.engine.errors import LengthError
from projects.engine.plan.records import Plan
from projects.engine.setups.grouping import Tolerance
from projects.engine.setups.run_sheet import TOLERANCES
from projects.engine.setups.setting_records import Name
from projects.engine.units import mm_per, read_length
from projects.words import words

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise as StrPromise

MOST_MM = mm_per("in") / 8
"""The largest tolerance [mm]: more would serve nobody. Source: own."""


@dataclass(frozen=True, kw_only=True)
class Kind:
    """One tolerance: its label, what it means, and the usual one as text."""

    name: Name
    label: StrPromise
    meaning: StrPromise
    usual: str
    under: bool = True


KINDS = (
    Kind(
        name="stop",
        label=_("Stop or fence"),
        meaning=_("this much nearer or farther"),
        usual="1/64 in",
    ),
    Kind(
        name="width",
        label=_("Slot width"),
        meaning=_("this much wider, never narrower"),
        usual="0.005 in",
        under=False,
    ),
    Kind(
        name="height",
        label=_("Height or depth"),
        meaning=_("this much higher or lower"),
        usual="1/128 in",
    ),
)


class ToleranceForm(forms.Form):
    """Say how far a setup may be off what a student wants; empty for the usual."""

    def __init__(self, *args: Any, plan: Plan, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.plan = plan
        self.read: dict[str, Fraction] = {}
        for kind in KINDS:
            self.fields[kind.name] = forms.CharField(
                required=False,
                max_length=40,
                label=kind.label,
                help_text=kind.meaning,
                widget=forms.TextInput(attrs={"autocomplete": "off"}),
            )

    def clean(self) -> dict[str, Any]:
        """Read each length, with its error at its own field."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        for kind in KINDS:
            if kind.name not in data:
                continue
            try:
                self.read[kind.name] = self._read(kind, data[kind.name])
            except LengthError as error:
                self.add_error(kind.name, words(error))
            except forms.ValidationError as error:
                self.add_error(kind.name, error)
        return data

    def _read(self, kind: Kind, text: str) -> Fraction:
        text = text or kind.usual
        if text == "0":
            return Fraction(0)
        length = read_length(text, unit=self.plan.units, field=str(kind.label))
        if length.mm > MOST_MM:
            raise forms.ValidationError(
                _("At most 1/8 in (read: %(text)s)."), params={"text": text}
            )
        return length.mm

    def shown(self) -> dict[str, str]:
        """Return what the fields show: what was typed, else the usual."""
        typed = self.typed()
        return {kind.name: typed.get(kind.name, kind.usual) for kind in KINDS}

    def typed(self) -> dict[str, str]:
        """Return what was typed, to be kept; the usual is left out."""
        return {key: text for key, text in self.cleaned_data.items() if text}


def tolerances_from(read: Mapping[str, Fraction]) -> dict[Name, Tolerance]:
    """Return the tolerances of every number, these [mm] in place of the usual."""
    found = dict(TOLERANCES)
    for kind in KINDS:
        if kind.name in read:
            mm = read[kind.name]
            under_mm = mm if kind.under else Fraction(0)
            found[kind.name] = Tolerance(under_mm=under_mm, over_mm=mm)
    return found


class CutForm(forms.Form):
    """Say of a student's cuts that they are made, or not; or that a `step` is done."""

    build = forms.IntegerField()
    cut = forms.CharField(max_length=40, required=False)
    step = forms.CharField(max_length=80, required=False)
    done = forms.ChoiceField(choices=[("1", ""), ("0", "")])

    def clean_done(self) -> bool:
        """Return whether they are cut."""
        return bool(self.cleaned_data["done"] == "1")
