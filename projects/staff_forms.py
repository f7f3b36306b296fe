"""Forms about who teaches and who helps in a class."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from projects.models import RIGHTS, Membership, Right, ShopClass, User
from projects.roster import LONGEST_NAME, is_printable


def right_words(right: Right) -> str:
    """Return what an assistant may who has this right."""
    field = Membership._meta.get_field(right)
    return str(getattr(field, "verbose_name", right))


class RightsForm(forms.Form):
    """Say what an assistant may."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for right in RIGHTS:
            self.fields[right] = forms.BooleanField(
                required=False, label=right_words(right)
            )

    @property
    def right_fields(self) -> list[forms.BoundField]:
        """Return the fields to tick."""
        return [self[right] for right in RIGHTS]

    @property
    def rights(self) -> list[Right]:
        """Return what was ticked."""
        return [right for right in RIGHTS if self.cleaned_data[right]]


class InstructorForm(RightsForm):
    """Name somebody who is an instructor here already."""

    prefix = "known"
    username = forms.CharField(
        label=_("Sign-in name of an instructor"),
        max_length=40,
        widget=forms.TextInput(attrs={"autocapitalize": "none", "autocomplete": "off"}),
    )
    role = forms.ChoiceField(
        label=_("They are"),
        choices=[
            (Membership.Role.INSTRUCTOR, _("Instructor: may do everything")),
            (Membership.Role.ASSISTANT, _("Assistant: may do what is ticked")),
        ],
        initial=Membership.Role.INSTRUCTOR,
        widget=forms.RadioSelect,
    )

    def clean_username(self) -> User:
        """Return the instructor; students and assistants are not found by name."""
        typed = self.cleaned_data["username"]
        found = User.objects.filter(
            username=typed.strip().lower(), is_instructor=True, is_active=True
        ).first()
        if found is None:
            raise forms.ValidationError(
                _("No instructor signs in as %(name)s."), params={"name": typed}
            )
        return found


class AssistantForm(RightsForm):
    """Name somebody new who helps."""

    prefix = "new"
    name = forms.CharField(
        label=_("Name of the new assistant"),
        max_length=LONGEST_NAME,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, shop_class: ShopClass, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop_class = shop_class

    def clean_name(self) -> str:
        """Return the name; one that is in the class already needs telling apart."""
        name = " ".join(self.cleaned_data["name"].split())
        if not is_printable(name):
            raise forms.ValidationError(
                _("This name holds a sign that can't be printed.")
            )
        if self.shop_class.memberships.present().filter(user__name=name).exists():
            raise forms.ValidationError(
                _(
                    "Somebody in this class has this name already. Add a letter to "
                    "tell them apart."
                )
            )
        return name
