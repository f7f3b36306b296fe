"""Forms of signing off: the signer's PIN, and what a sign-off records."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext_lazy as _

from projects import pins
from projects.models import Requirement, SignOff, User
from projects.signoffs import (
    Act,
    Asked,
    Change,
    MachineRecord,
    acts_from,
    lapse_date,
)

BY_THE_STUDENT = frozenset({Requirement.Kind.SHEET, Requirement.Kind.CHECK})
"""What the student records by doing it; a signer says why where they do it instead."""

NOTE = 400
NO_DIGITS = _("Type 4 to 8 digits.")
ACTS = {
    SignOff.Act.SIGNED: _("Sign off"),
    SignOff.Act.RENEWED: _("Renew"),
    SignOff.Act.WITHDRAWN: _("Withdraw"),
}


def pin_field(label: Any, **more: Any) -> forms.CharField:
    """Return a field for a signing PIN; what was typed is never sent back."""
    widget = forms.PasswordInput(
        attrs={"inputmode": "numeric", "autocomplete": "off", **more}
    )
    return forms.CharField(
        label=label,
        max_length=pins.LONGEST,
        widget=widget,
        error_messages={"max_length": NO_DIGITS, "required": NO_DIGITS},
    )


class PinForm(forms.Form):
    """Choose a signing PIN."""

    pin = pin_field(_("New PIN"))
    pin_again = pin_field(_("The same PIN again"))
    password = forms.CharField(
        label=_("What you sign in with: your password, or the PIN of your join card"),
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def clean_pin(self) -> str:
        """Return the PIN, where it is not among the first that anybody would try."""
        pin: str = self.cleaned_data["pin"]
        if not (pin.isascii() and pin.isdigit() and len(pin) >= pins.SHORTEST):
            raise forms.ValidationError(NO_DIGITS)
        if pins.is_guessable(pin):
            raise forms.ValidationError(
                _(
                    "Choose one that is harder to guess: not the same digit over and "
                    "over, not digits that count up or down."
                )
            )
        return pin

    def clean(self) -> dict[str, Any]:
        """Refuse two PINs, and the one somebody signs in with."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        pin = data.get("pin")
        if pin and data.get("pin_again") and pin != data["pin_again"]:
            self.add_error("pin_again", _("This is not the PIN above."))
        if pin and pin == data.get("password"):
            self.add_error("pin", _("Choose another one than you sign in with."))
        return data


@dataclass(frozen=True, kw_only=True)
class AskedLine:
    """One requirement on the form: its box, and the note beside it."""

    asked: Asked
    box: BoundField
    note: BoundField


class SignOffForm(forms.Form):
    """Record what was met, sign off, renew or withdraw: one PIN for all of it."""

    act = forms.ChoiceField(
        label=_("The sign-off"),
        required=False,
        widget=forms.RadioSelect,
        error_messages={
            "invalid_choice": _(
                "The record has changed meanwhile. Look at it and choose again."
            )
        },
    )
    lapses_on = forms.DateField(
        label=_("Lapses on; empty where it does not lapse"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}),
        error_messages={"invalid": _("Type a date, for example 2027-03-31.")},
    )
    note = forms.CharField(
        label=_("Note; the reason, where you withdraw"),
        max_length=NOTE,
        required=False,
    )
    signer = forms.TypedChoiceField(
        label=_("Signed by"),
        coerce=int,
        error_messages={"invalid_choice": _("Choose who signs.")},
    )
    pin = pin_field(_("PIN of who signs"))
    # what was looked at, so that a second tap or a page gone stale does nothing
    seen = forms.IntegerField(required=False, widget=forms.HiddenInput)

    def __init__(
        self,
        *args: Any,
        record: MachineRecord,
        signers: Sequence[User],
        by: User,
        today: date,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **{"label_suffix": "", **kwargs})
        self.record, self.signers, self.today = record, signers, today
        acts = [(act.value, ACTS[act]) for act in acts_from(record.standing)]
        self._offer("act", [("", _("Leave it as it is")), *acts])
        self._offer("signer", [(user.pk, user.name) for user in signers])
        self.fields["lapses_on"].initial = lapse_date(record.machine, today)
        self.fields["signer"].initial = by.pk
        for one in record.asked:
            self.fields[_name(one)] = forms.BooleanField(
                required=False, label=one.requirement.title
            )
            self.fields[f"note-{one.requirement.pk}"] = forms.CharField(
                required=False, max_length=NOTE
            )

    def _offer(self, name: str, choices: list[tuple[Any, Any]]) -> None:
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = choices

    def lines(self) -> list[AskedLine]:
        """Return the requirements for the template."""
        return [
            AskedLine(
                asked=one,
                box=self[_name(one)],
                note=self[f"note-{one.requirement.pk}"],
            )
            for one in self.record.asked
        ]

    def signer_user(self) -> User:
        """Return who signs."""
        chosen = self.cleaned_data["signer"]
        return next(user for user in self.signers if user.pk == chosen)

    def changes(self) -> list[Change]:
        """Return what is recorded of the requirements."""
        return [
            Change(
                requirement=one.requirement,
                met=not one.is_met,
                note=self.cleaned_data[f"note-{one.requirement.pk}"],
            )
            for one in self.record.asked
            if self.cleaned_data.get(_name(one))
        ]

    def wanted_act(self) -> Act | None:
        """Return what is done with the sign-off, if anything."""
        data = self.cleaned_data
        if not data["act"]:
            return None
        return Act(
            act=data["act"],
            note=data["note"],
            lapses_on=data["lapses_on"],
            seen=data["seen"],
        )

    def clean_lapses_on(self) -> date | None:
        """Refuse a day that is over."""
        lapses_on: date | None = self.cleaned_data["lapses_on"]
        if lapses_on is not None and lapses_on < self.today:
            raise forms.ValidationError(_("This day is over; type one to come."))
        return lapses_on

    def clean(self) -> dict[str, Any]:
        """Ask for the notes that the record needs, and for something to record."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        ticked = [one for one in self.record.asked if data.get(_name(one))]
        for one in ticked:
            name = f"note-{one.requirement.pk}"
            if not data.get(name) and name not in self.errors:
                self._need_note(one, name)
        act = data.get("act")
        if act == SignOff.Act.WITHDRAWN and not data.get("note"):
            self.add_error("note", _("Say why it is withdrawn."))
        if not ticked and not act and not self.errors:
            raise forms.ValidationError(
                _("Tick what was met, or choose what to do with the sign-off.")
            )
        return data

    def _need_note(self, one: Asked, name: str) -> None:
        if one.is_met:
            self.add_error(name, _("Say why it is taken back."))
        elif one.requirement.kind in BY_THE_STUDENT:
            self.add_error(
                name, _("Say how you know; students usually record this themselves.")
            )


def _name(one: Asked) -> str:
    # named for what ticking does, so that a page gone stale undoes nothing
    return f"{'back' if one.is_met else 'met'}-{one.requirement.pk}"
