"""Forms of a class's roster: who is put on it, and the cards they join with."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from django import forms
from django.contrib.auth.base_user import AbstractBaseUser
from django.core.files.uploadedfile import UploadedFile
from django.db.models import QuerySet
from django.http import QueryDict
from django.utils.translation import gettext_lazy as _

from projects import members
from projects.addresses import read_site
from projects.members import Member
from projects.models import Revision, ShopClass, User
from projects.revision_choice import RevisionChoice
from projects.roster import (
    LONGEST_NAME,
    MOST_STUDENTS,
    is_printable,
    read_roster,
    same_name,
)
from projects.roster_file import MOST_BYTES, NotATableError, read_names

LONGEST_TEXT = 20_000
LONGEST_NUMBER = 18
"""Digits of a row's number: one more may not fit the database's 64 bits."""


def check_names(names: Sequence[str]) -> None:
    """Refuse names that can't be printed or told apart: `ValidationError`."""
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
    first: dict[str, str] = {}
    twice = set()
    for name in names:
        if same_name(name) in first:
            twice.add(first[same_name(name)])
        first.setdefault(same_name(name), name)
    if twice:
        raise forms.ValidationError(
            _(
                "This name stands here twice: %(name)s. Add a letter to tell them "
                "apart."
            ),
            params={"name": ", ".join(sorted(twice))},
        )


def check_number(names: Sequence[str], *, already: int = 0) -> None:
    """Refuse more students than a class has: `ValidationError`."""
    if len(names) + already <= MOST_STUDENTS:
        return
    if not already:
        raise forms.ValidationError(
            _("A class has at most %(most)d students; %(n)d names were read."),
            params={"most": MOST_STUDENTS, "n": len(names)},
        )
    raise forms.ValidationError(
        _("A class has at most %(most)d students: %(already)d and %(n)d are too many."),
        params={"most": MOST_STUDENTS, "n": len(names), "already": already},
    )


def check_new(names: Sequence[str], known: Collection[Member]) -> None:
    """Refuse names of who is or was in the class: `ValidationError`."""
    of_name = {same_name(one.person.name): one for one in known}
    found = [of_name[same_name(n)] for n in names if same_name(n) in of_name]
    here = sorted({one.person.name for one in found if not one.has_left})
    left = sorted({one.person.name for one in found if one.has_left})
    if here:
        raise forms.ValidationError(
            _(
                "In this class already: %(name)s. Take the name out, or add a letter "
                "to tell two people apart."
            ),
            params={"name": ", ".join(here)},
        )
    if left:
        raise forms.ValidationError(
            _(
                "Was in this class and left: %(name)s. Let them come back from the "
                "list of those who left, or add a letter to tell two people apart."
            ),
            params={"name": ", ".join(left)},
        )


class ClassForm(forms.Form):
    """Open a class: its title, the plan everybody builds, and who is in it so far."""

    title = forms.CharField(label=_("Class"), max_length=80)
    revision = RevisionChoice(
        label=_("Plan"), queryset=Revision.objects.none(), empty_label=None
    )
    roster = forms.CharField(
        label=_("Students, one name a line"),
        widget=forms.Textarea(attrs={"rows": 12}),
        max_length=LONGEST_TEXT,
        required=False,
    )

    def __init__(self, *args: Any, user: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        newest = Revision.objects.newest_of(user)
        self.has_plans = newest.exists()
        choice = self.fields["revision"]
        if isinstance(choice, forms.ModelChoiceField):
            choice.queryset = newest.select_related("plan__owner")

    def clean_roster(self) -> list[str]:
        """Return the names typed."""
        names = read_roster(self.cleaned_data["roster"])
        check_number(names)
        check_names(names)
        return names


class PersonChoice(forms.ModelMultipleChoiceField[User]):
    """Tick people by name."""

    widget = forms.CheckboxSelectMultiple

    def clean(self, value: Any) -> QuerySet[User]:
        """Return who was ticked; refuse a number too large for any row."""
        for number in value or ():
            if len(str(number)) > LONGEST_NUMBER:
                raise forms.ValidationError(
                    self.error_messages["invalid_choice"],
                    code="invalid_choice",
                    params={"value": str(number)[:LONGEST_NUMBER]},
                )
        return super().clean(value)

    def label_from_instance(self, obj: Any) -> str:
        """Return the name."""
        person: AbstractBaseUser = obj
        return str(person)


class RosterAddForm(forms.Form):
    """Put students on a roster: typed, from a file, or out of other classes.

    What a file holds that needs a look is put among the typed names, for a second go.
    """

    names = forms.CharField(
        label=_("Names, one a line"),
        widget=forms.Textarea(attrs={"rows": 6}),
        max_length=LONGEST_TEXT,
        required=False,
    )
    file = forms.FileField(label=_("CSV file"), required=False)
    person = PersonChoice(
        label=_("From your other classes"),
        queryset=User.objects.none(),
        required=False,
    )

    def __init__(
        self,
        *args: Any,
        shop_class: ShopClass,
        viewer: User,
        known: Sequence[Member],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.known = known
        self.from_file: list[str] = []
        choice = self.fields["person"]
        if isinstance(choice, forms.ModelMultipleChoiceField):
            choice.queryset = members.students_elsewhere(shop_class, viewer)

    def clean_file(self) -> UploadedFile[Any] | None:
        """Read the names in the file."""
        file: UploadedFile[Any] | None = self.cleaned_data["file"]
        if file is None:
            return None
        if (file.size or 0) > MOST_BYTES:
            raise forms.ValidationError(
                _("This file is %(size)d bytes; at most %(most)d are read."),
                params={"size": file.size, "most": MOST_BYTES},
            )
        try:
            read = read_names(file.read())
        except NotATableError as error:
            raise forms.ValidationError(
                _("This is no text file. Save the list as CSV, and send that.")
            ) from error
        if not read.names:
            raise forms.ValidationError(_("No name was read in this file."))
        self.from_file = read.names
        if not read.is_sure:
            raise forms.ValidationError(
                _(
                    "No column is headed name, so the first one was read. Look at the "
                    "names above before you send them."
                )
            )
        return file

    def clean(self) -> dict[str, Any]:
        """Return the names of who is new as `new`; who was picked stays `person`."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        picked = list(data.get("person") or ())
        typed = [*read_roster(data.get("names") or ""), *self.from_file]
        if not (typed or picked or self.errors):
            self.add_error("names", _("Type a name, or choose a file."))
        everybody = [*typed, *(person.name for person in picked)]
        try:
            check_names(everybody)
            check_new(everybody, self.known)
            check_number(everybody, already=self._count())
        except forms.ValidationError as error:
            self.add_error("names", error)
        if self.errors:
            self._show(typed)
        data["new"] = typed
        return data

    def _count(self) -> int:
        return sum(one.is_student and not one.has_left for one in self.known)

    def _show(self, typed: list[str]) -> None:
        """Put the names of a file, which no browser sends twice, into the box."""
        if self.from_file and isinstance(self.data, QueryDict):
            sent = self.data.copy()
            sent["names"] = "\n".join(typed)
            self.data = sent


class NameForm(forms.Form):
    """Call somebody by another name."""

    name = forms.CharField(label=_("Name"), max_length=LONGEST_NAME)

    def __init__(self, *args: Any, known: Sequence[Member], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.known = known

    def clean_name(self) -> str:
        """Return the name, tidied."""
        names = read_roster(self.cleaned_data["name"])
        if len(names) != 1:
            raise forms.ValidationError(_("Type one name."))
        check_names(names)
        check_new(names, self.known)
        return names[0]


class CardsForm(forms.Form):
    """Say which join cards are printed, and the address that phones use."""

    who = forms.ChoiceField(
        label=_("Cards for"),
        choices=[
            ("new", _("those who have not joined yet")),
            ("all", _("everybody")),
        ],
        required=False,
        widget=forms.RadioSelect,
    )
    student = forms.IntegerField(required=False, widget=forms.HiddenInput)
    at = forms.CharField(label=_("Address on the cards"), max_length=200)

    def __init__(self, *args: Any, scheme: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.scheme = scheme

    def clean_who(self) -> str:
        """Return the choice; who has not joined, where none was made."""
        return self.cleaned_data["who"] or "new"

    def clean_at(self) -> str:
        """Return the site, with http or https in front."""
        try:
            return read_site(self.cleaned_data["at"], scheme=self.scheme)
        except ValueError as error:
            raise forms.ValidationError(
                _(
                    "This is no address of a server. Type a name or number as phones "
                    "reach it, such as 192.168.1.7:8000."
                )
            ) from error
