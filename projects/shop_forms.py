"""Forms of a shop and its machines: what they take and allow."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from projects import shops
from projects.actions.machines import KINDS
from projects.engine.errors import EngineError, LengthError
from projects.engine.shop.equipment import EQUIPMENT, MOST_CHARACTERS, read_measure
from projects.engine.shop.machines import HAND_TOOLS, MACHINES
from projects.engine.units import read_length
from projects.models import Machine
from projects.words import lines, words

LONGEST_CAUTION = 300
MOST_ALIKE = 50


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


class ShopForm(forms.Form):
    """Say what a shop takes; every field may stay empty for the usual limit."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
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


class MachineForm(forms.Form):
    """Add a machine: its kind, and what it is called."""

    kind = forms.ChoiceField(label=_("Kind"))
    name = forms.CharField(
        label=_("Name"),
        help_text=_("Without one it is called by its kind."),
        max_length=60,
        required=False,
    )
    how_many = forms.IntegerField(
        label=_("How many alike"), min_value=1, max_value=MOST_ALIKE, initial=1
    )
    most_people = forms.IntegerField(
        label=_("Most people at once, at each"),
        min_value=1,
        max_value=MOST_ALIKE,
        initial=1,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        kind = self.fields["kind"]
        if isinstance(kind, forms.ChoiceField):
            kind.choices = [(key, gettext(MACHINES[key].name)) for key in KINDS]


class MachineEditForm(forms.Form):
    """Change what is written down of one machine; `limit_KEY` as its kind has them."""

    name = forms.CharField(label=_("Name"), max_length=60)
    how_many = forms.IntegerField(
        label=_("How many alike"), min_value=1, max_value=MOST_ALIKE
    )
    most_people = forms.IntegerField(
        label=_("Most people at once, at each"), min_value=1, max_value=MOST_ALIKE
    )
    step_minutes = forms.IntegerField(
        label=_("Minutes a step takes here"), min_value=1, max_value=240
    )
    setup_minutes = forms.IntegerField(
        label=_("Minutes a setup change takes"), min_value=0, max_value=120
    )
    lapses_after_months = forms.IntegerField(
        label=_("A sign-off lapses after this many months"),
        help_text=_("Empty: it never lapses."),
        min_value=1,
        max_value=120,
        required=False,
    )
    pass_mark_pct = forms.IntegerField(
        label=_("Pass mark of the written check, %"), min_value=1, max_value=100
    )
    cautions = forms.CharField(
        label=_("Your own cautions, one a line"),
        help_text=_("On the poster they follow those of its kind. 300 letters each."),
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )

    def __init__(self, *args: Any, machine: Machine, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if machine.kind == HAND_TOOLS:
            # nothing is set up at a bench
            del self.fields["setup_minutes"]
            self.fields["step_minutes"].help_text = _(
                "A plain step: milling by hand counts four times, joints and fitted "
                "parts three times, shaping and sanding twice."
            )
        self.measures = EQUIPMENT.get(machine.kind, ())
        for measure in self.measures:
            self.fields[f"limit_{measure.key}"] = forms.CharField(
                label=gettext(measure.label),
                max_length=MOST_CHARACTERS if measure.unit == "lengths" else 40,
                required=False,
            )

    @classmethod
    def of(cls, machine: Machine) -> MachineEditForm:
        """Return the form as the machine is now."""
        plain = (
            "name",
            "how_many",
            "most_people",
            "step_minutes",
            "setup_minutes",
            "lapses_after_months",
        )
        data = {name: getattr(machine, name) for name in plain}
        limits = {f"limit_{key}": text for key, text in machine.limits.items()}
        return cls(
            machine=machine,
            initial=data
            | limits
            | {"pass_mark_pct": machine.pass_mark_pct, "cautions": machine.cautions},
        )

    def clean_cautions(self) -> str:
        """Return the cautions, a line each, without empty lines."""
        typed = [line.strip() for line in self.cleaned_data["cautions"].splitlines()]
        for line in typed:
            if len(line) > LONGEST_CAUTION:
                raise forms.ValidationError(
                    _("A caution has at most %(most)d letters; one begins: %(read)s"),
                    params={"most": LONGEST_CAUTION, "read": f"{line[:60]}…"},
                )
        return "\n".join(filter(None, typed))

    def clean(self) -> dict[str, Any]:
        """Gather the limits as typed, each at its own field where it can't be read."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        limits = {}
        for measure in self.measures:
            text = data.pop(f"limit_{measure.key}", "")
            if not text:
                continue
            try:
                read_measure(measure, text)
            except LengthError as error:
                self.add_error(f"limit_{measure.key}", words(error))
            limits[measure.key] = text
        return data | {"limits": limits}
