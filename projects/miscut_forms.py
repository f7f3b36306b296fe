"""Forms of a miscut's page: proposing a way out, and deciding on it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from projects.engine.errors import LengthError
from projects.engine.fit.miscut import Blank, LetGive, Miscut, UseAs
from projects.engine.plan.records import Plan
from projects.engine.units import Length, read_length
from projects.models import WayOut
from projects.step_forms import YES_NO
from projects.ways_out import (
    Details,
    cut_again_details,
    let_give_details,
    use_as_details,
)
from projects.words import words

NOTE_TOO_LONG = {"max_length": _("At most 400 characters.")}
CUT_AGAIN = WayOut.Kind.CUT_AGAIN.value


def way_values(found: Miscut) -> dict[str, Blank | LetGive | UseAs]:
    """Return the engine's record of each way out by what its radio sends."""
    return {
        CUT_AGAIN: found.blank,
        **{f"let_give:{way.distance.key}": way for way in found.let_give},
        **{f"use_as:{way.part.key}": way for way in found.use_as},
    }


class WayOutForm(forms.Form):
    """Propose one of the ways out of `found`; lengths are read in the plan's unit.

    `cleaned_data["way"]` is what the radio sent. With `keep` a part may be cut again
    though the stock left is too small, or none was told.
    """

    way = forms.CharField(
        max_length=120,
        error_messages={"required": _("Choose one of the ways out.")},
    )
    left_length = forms.CharField(max_length=40, required=False)
    left_width = forms.CharField(max_length=40, required=False)
    keep = forms.BooleanField(required=False)
    note = forms.CharField(max_length=400, required=False, error_messages=NOTE_TOO_LONG)

    def __init__(self, *args: Any, found: Miscut, plan: Plan, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.found, self.plan = found, plan

    def clean_way(self) -> str:
        """Return the way, where it is one of those offered."""
        way: str = self.cleaned_data["way"]
        if way not in way_values(self.found):
            raise forms.ValidationError(_("This is no way out any more; choose again."))
        return way

    def clean_left_length(self) -> Length | None:
        """Return how long the stock is that is left."""
        return self._length("left_length", str(_("Length")))

    def clean_left_width(self) -> Length | None:
        """Return how wide it is."""
        return self._length("left_width", str(_("Width")))

    def _length(self, name: str, field: str) -> Length | None:
        text = self.cleaned_data[name].strip()
        if not text:
            return None
        try:
            return read_length(text, unit=self.plan.units, field=field)
        except LengthError as error:
            raise forms.ValidationError(words(error)) from error

    def clean(self) -> dict[str, Any]:
        """Ask for both sizes of the stock, or for neither."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        for name, other, text in (
            ("left_length", "left_width", _now("Type its length too.")),
            ("left_width", "left_length", _now("Type its width too.")),
        ):
            if data.get(other) and name in data and not data[name]:
                self.add_error(name, text)
        return data

    def only_stock(self) -> None:
        """Leave out what is wrong elsewhere: only the stock left is asked about."""
        for name in ("way", "note"):
            self.errors.pop(name, None)

    @property
    def kind(self) -> str:
        """The kind of the way chosen."""
        kind: str = self.cleaned_data["way"].partition(":")[0]
        return kind

    @property
    def asks_again(self) -> bool:
        """Tell whether the stock left is to be told of before this is sent."""
        if self.kind != CUT_AGAIN or self.cleaned_data["keep"]:
            return False
        return not self.fits

    def details(self) -> Details:
        """Return what is kept of the way chosen."""
        data, unit = self.cleaned_data, self.plan.units
        way = way_values(self.found)[data["way"]]
        if isinstance(way, LetGive):
            return let_give_details(way, unit)
        if isinstance(way, UseAs):
            return use_as_details(way, unit)
        return cut_again_details(way, data["left_length"], data["left_width"], unit)

    @property
    def fits(self) -> bool | None:
        """Tell whether the blank fits the stock left; None where it isn't told."""
        data = getattr(self, "cleaned_data", {})
        length, width = data.get("left_length"), data.get("left_width")
        if not (length and width):
            return None
        return self.found.blank.fits_in(length.mm, width.mm)


class DecisionForm(forms.Form):
    """Agree with a proposal, or not; that takes a note."""

    agreed = forms.ChoiceField(
        choices=YES_NO, error_messages={"required": _("Choose one of the two.")}
    )
    note = forms.CharField(max_length=400, required=False, error_messages=NOTE_TOO_LONG)

    def clean_agreed(self) -> bool:
        """Return whether they agree."""
        return bool(self.cleaned_data["agreed"] == "1")

    def clean(self) -> dict[str, Any]:
        """Ask why, where they don't agree."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        if data.get("agreed") is False and not data.get("note"):
            self.add_error("note", _now("Say why not, or what to do instead."))
        return data
