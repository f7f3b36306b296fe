"""Forms about what a class is: its dates, meetings, near misses, and its end."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from projects.meetings import weekly
from projects.models import Machine, Meeting, NearMiss, ShopClass

MOST_WEEKS = 60
MOST_MEETINGS = 400
SKIPS = 4
FIRST_YEAR, LAST_YEAR = 2000, 2100


def check_year(at: datetime) -> None:
    """Refuse a slip in the year: at the calendar's ends no zone can be reckoned.

    Raises `ValidationError`.
    """
    if not FIRST_YEAR <= at.year <= LAST_YEAR:
        raise forms.ValidationError(
            _("Type a year from %(first)d to %(last)d; this was read: %(year)d."),
            params={"first": FIRST_YEAR, "last": LAST_YEAR, "year": at.year},
        )


class DateInput(forms.DateInput):
    """The browser's own field for a date."""

    input_type = "date"

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(format="%Y-%m-%d", **kwargs)


class DateTimeInput(forms.DateTimeInput):
    """The browser's own field for a date and a time of day."""

    input_type = "datetime-local"

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(format="%Y-%m-%dT%H:%M", **kwargs)


class SettingsForm(forms.Form):
    """Say what a class is called and when its term is."""

    title = forms.CharField(label=_("Class"), max_length=80)
    starts_on = forms.DateField(label=_("First day"), required=False, widget=DateInput)
    ends_on = forms.DateField(label=_("Last day"), required=False, widget=DateInput)

    def clean(self) -> dict[str, Any]:
        """Refuse a term that ends before it starts."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        starts, ends = data.get("starts_on"), data.get("ends_on")
        if starts and ends and ends < starts:
            self.add_error(
                "ends_on",
                forms.ValidationError(
                    _("This is before the first day, %(first)s."),
                    params={"first": date_format(starts)},
                ),
            )
        return data


class MeetingForm(forms.Form):
    """Add one meeting."""

    prefix = "one"
    starts_at = forms.DateTimeField(label=_("Begins"), widget=DateTimeInput)
    minutes = forms.IntegerField(
        label=_("Lasts, in minutes"), min_value=10, max_value=1440, initial=180
    )
    note = forms.CharField(label=_("Note"), max_length=200, required=False)

    def __init__(self, *args: Any, shop_class: ShopClass, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop_class = shop_class

    def clean_starts_at(self) -> datetime:
        """Refuse a slip in the year."""
        starts_at: datetime = self.cleaned_data["starts_at"]
        check_year(starts_at)
        return starts_at

    def starts(self) -> list[datetime]:
        """Return when the meetings begin that this would add."""
        return [self.cleaned_data["starts_at"]]

    def clean(self) -> dict[str, Any]:
        """Refuse a meeting that is there already, and far too many."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return data
        starts = self.starts()
        there = self.shop_class.meetings.all()
        twice = there.filter(starts_at__in=starts).first()
        if twice is not None:
            self.add_error(
                "starts_at",
                forms.ValidationError(
                    _("There is a meeting at this time already: %(when)s."),
                    params={"when": shown(twice)},
                ),
            )
        if there.count() + len(starts) > MOST_MEETINGS:
            self.add_error(None, _("A class has at most 400 meetings."))
        return data


class SeriesForm(MeetingForm):
    """Add a weekly series of meetings."""

    prefix = "series"
    count = forms.IntegerField(
        label=_("How many meetings"), min_value=2, max_value=MOST_WEEKS, initial=8
    )
    field_order = ("starts_at", "count", "minutes", "note")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["starts_at"].label = _("The first begins")
        for number in range(1, SKIPS + 1):
            self.fields[f"skip{number}"] = forms.DateField(
                label=_("Date %d") % number, required=False, widget=DateInput
            )

    @property
    def skip_fields(self) -> list[forms.BoundField]:
        """Return the fields of the weeks left out."""
        return [self[f"skip{number}"] for number in range(1, SKIPS + 1)]

    def skips(self) -> dict[str, date]:
        """Return the dates left out, by the field that names them."""
        names = [f"skip{number}" for number in range(1, SKIPS + 1)]
        return {
            name: self.cleaned_data[name]
            for name in names
            if self.cleaned_data.get(name)
        }

    def starts(self) -> list[datetime]:
        """Return when the meetings begin that this would add."""
        return weekly(
            self.cleaned_data["starts_at"],
            count=self.cleaned_data["count"],
            skip=set(self.skips().values()),
        )

    def clean(self) -> dict[str, Any]:
        """Refuse to leave out a date on which the series would not meet anyway."""
        data = super().clean()
        if not self.errors:
            first = timezone.localdate(data["starts_at"])
            last = timezone.localdate(self.starts()[-1])
            for name, day in self.skips().items():
                if not first <= day <= last or (day - first).days % 7:
                    self.add_error(
                        name,
                        forms.ValidationError(
                            _("The series has no meeting on %(day)s anyway."),
                            params={"day": date_format(day, "D, j M Y")},
                        ),
                    )
        return data


def shown(meeting: Meeting) -> str:
    """Return when a meeting begins, as people say it."""
    return date_format(timezone.localtime(meeting.starts_at), "D, j M Y, H:i")


class NearMissForm(forms.Form):
    """Log what happened."""

    kind = forms.ChoiceField(
        label=_("How it ended"),
        choices=NearMiss.Kind.choices,
        initial=NearMiss.Kind.NEAR_MISS,
    )
    happened_at = forms.DateTimeField(label=_("When"), widget=DateTimeInput)
    machine = forms.ModelChoiceField(
        label=_("Machine"),
        queryset=Machine.objects.none(),
        required=False,
        empty_label=_("None"),
    )
    what = forms.CharField(
        label=_("What happened"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    done = forms.CharField(
        label=_("What was done"),
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    def __init__(self, *args: Any, machines: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        choice = self.fields["machine"]
        if isinstance(choice, forms.ModelChoiceField):
            choice.queryset = machines

    def clean_happened_at(self) -> datetime:
        """Refuse what has not happened yet."""
        happened_at: datetime = self.cleaned_data["happened_at"]
        check_year(happened_at)
        # the clocks of a phone and of the server differ by a little
        if happened_at > timezone.now() + timedelta(minutes=5):
            raise forms.ValidationError(_("This time has not come yet."))
        return happened_at


class AdditionForm(forms.Form):
    """Add to an entry; its form stands below that entry."""

    kind = forms.ChoiceField(label=_("How it ended"), choices=NearMiss.Kind.choices)
    what = forms.CharField(
        label=_("What to add"),
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    done = forms.CharField(
        label=_("What was done"),
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )


class TypedForm(forms.Form):
    """Make sure that something is meant to go, by typing what it is called."""

    typed = forms.CharField(
        max_length=200,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none"}),
    )

    def __init__(self, *args: Any, called: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.called = called

    def clean_typed(self) -> str:
        """Refuse anything but the very words."""
        typed: str = self.cleaned_data["typed"]
        if typed != self.called:
            raise forms.ValidationError(
                _("This reads %(typed)s; type %(called)s to delete."),
                params={"typed": typed, "called": self.called},
            )
        return typed
