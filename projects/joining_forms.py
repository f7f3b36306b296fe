"""Forms to join and to sign in with: codes of cards, PINs, sign-in names."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.utils.translation import gettext_lazy as _

from projects.models import User
from projects.roster import is_code, is_easy_pin, read_code

SHORTEST_PIN, LONGEST_PIN = 4, 8


def holder(typed: str) -> User | None:
    """Return who holds the join card with a code that is in use; costs one query.

    Whoever publishes plans signs in with a password and never by a card.
    """
    code = read_code(typed)
    if not is_code(code):
        return None
    people = User.objects.filter(username=code, is_instructor=False, is_active=True)
    return people.first()


class SignInForm(AuthenticationForm):
    """Sign in by a name, or by a card's code however it was typed."""

    def clean_username(self) -> str:
        """Return the name as it is kept."""
        typed: str = self.cleaned_data["username"]
        plain, code = typed.strip().lower(), read_code(typed)
        # somebody's name may look like a code, such as zara-beth
        if code != plain and not User.objects.filter(username=plain).exists():
            return code
        return typed


class CodeForm(forms.Form):
    """Type the code on a join card."""

    code = forms.CharField(
        label=_("Code on your card"),
        max_length=40,
        error_messages={"required": _("Type the code on your card, such as K7MP-X3QE")},
    )


def _pin_field(label: Any, autocomplete: str, required: Any) -> forms.CharField:
    attrs = {
        "inputmode": "numeric",
        "autocomplete": autocomplete,
        "maxlength": LONGEST_PIN,
        "required": True,
    }
    return forms.CharField(
        label=label,
        widget=forms.PasswordInput(attrs=attrs),
        error_messages={"required": required},
    )


class PinForm(forms.Form):
    """Type the PIN that goes with a card."""

    # the throttle keeps what was sent, but for what is called a password
    password = _pin_field(_("Your PIN"), "current-password", _("Type your PIN."))


class NewPinForm(forms.Form):
    """Choose a PIN, typed twice."""

    password = _pin_field(
        _("Choose a PIN, 4 to 8 digits"), "new-password", _("Type 4 to 8 digits.")
    )
    again = _pin_field(
        _("The same PIN again"), "new-password", _("Type the same PIN again.")
    )

    def clean_password(self) -> str:
        """Return the PIN; refuse what others try first."""
        pin: str = self.cleaned_data["password"]
        if not (pin.isascii() and pin.isdigit()):
            raise forms.ValidationError(_("A PIN holds digits only, such as 0 to 9."))
        if not SHORTEST_PIN <= len(pin) <= LONGEST_PIN:
            raise forms.ValidationError(_("A PIN has 4 to 8 digits."))
        if is_easy_pin(pin):
            raise forms.ValidationError(
                _("This one is guessed first. Choose digits in no simple order.")
            )
        return pin

    def clean(self) -> dict[str, Any]:
        """Refuse two different PINs."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        pin, again = data.get("password"), data.get("again")
        if pin and again and pin != again:
            self.add_error("again", _("The two PINs differ. Type both again."))
        return data
