"""The form for the diagonals of a dry assembly."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from projects.actions.diagonals import Typed
from projects.adapters import read_target
from projects.engine.errors import EngineError, LengthError
from projects.engine.fit.dry_fit import dry_measures
from projects.engine.fit.solve import Solution
from projects.engine.fit.squareness import Frame, skew
from projects.engine.units import mm_per, read_length
from projects.words import words

FAR_APART_MM = mm_per("in")
"""How far apart two diagonals may be before a second look [mm].

Source: common practice, no source.
"""

_MISSING = {"required": _("Type what you read, for example 38 5/8.")}


class DiagonalsForm(forms.Form):
    """Read both diagonals; `pair` holds them once the form is valid."""

    distance = forms.CharField(max_length=100)
    first = forms.CharField(max_length=40, error_messages=_MISSING)
    second = forms.CharField(max_length=40, error_messages=_MISSING)
    keep = forms.BooleanField(required=False)

    def __init__(self, *args: Any, solution: Solution, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.solution = solution

    def clean_distance(self) -> str:
        """Return the key of a distance that is measured on the dry assembly."""
        key: str = self.cleaned_data["distance"]
        if read_target(f"diagonal:{key}", self.solution.plan) is None:
            raise forms.ValidationError(
                _("This plan measures no such distance on the dry assembly.")
            )
        return key

    def clean_first(self) -> Typed:
        """Return the first diagonal."""
        return self._read("first")

    def clean_second(self) -> Typed:
        """Return the second diagonal."""
        return self._read("second")

    def _read(self, name: str) -> Typed:
        text: str = self.cleaned_data[name].strip()
        try:
            unit = self.solution.plan.units
            length = read_length(text, unit=unit, field=str(_("What you read")))
        except LengthError as error:
            raise forms.ValidationError(words(error)) from error
        return Typed(text=text, length=length)

    def clean(self) -> dict[str, Any]:
        """Refuse lengths that can't be the diagonals of anything as wide."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        if {"distance", "first", "second"} <= data.keys():
            width_mm = self.solution.distances[data["distance"]]
            try:
                if width_mm is not None:
                    skew(
                        first_mm=data["first"].length.mm,
                        second_mm=data["second"].length.mm,
                        width_mm=width_mm,
                    )
            except EngineError as error:
                self.add_error("second", words(error))
        return data

    @property
    def pair(self) -> tuple[Typed, Typed]:
        """Both diagonals, as they were typed and read."""
        return self.cleaned_data["first"], self.cleaned_data["second"]

    @property
    def apart_mm(self) -> Fraction:
        """How far the two are apart [mm]."""
        first, second = self.pair
        return abs(first.length.mm - second.length.mm)

    @property
    def is_far_apart(self) -> bool:
        """Whether they are too far apart to be kept without a second look."""
        return self.apart_mm > FAR_APART_MM

    @property
    def other_frame(self) -> Frame | None:
        """The frame they should be of, where one of them is far from its diagonal."""
        key = self.cleaned_data["distance"]
        found = dry_measures(self.solution)
        frame = next(m.frame for m in found if m.distance.key == key)
        first, second = self.pair
        return frame if frame.is_far_off(first.length.mm, second.length.mm) else None

    @property
    def is_implausible(self) -> bool:
        """Whether they ask for a second look."""
        return self.is_far_apart or self.other_frame is not None

    @property
    def asks_again(self) -> bool:
        """Whether they are not to be kept yet."""
        return self.is_implausible and not self.cleaned_data["keep"]
