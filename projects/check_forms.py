"""Forms of what a machine asks before a sign-off, and of its written check."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from projects.engine.errors import EngineError
from projects.engine.shop.questions import Question as Asked
from projects.engine.shop.questions.question import (
    LONGEST_CHOICE,
    LONGEST_SOURCE,
    LONGEST_TEXT,
    LONGEST_WHY,
    MOST_CHOICES,
)
from projects.models import Question, Requirement
from projects.words import words


class RequirementForm(forms.Form):
    """Ask one more thing before a sign-off."""

    kind = forms.ChoiceField(label=_("What is asked"), choices=Requirement.Kind.choices)
    title = forms.CharField(
        label=_("In your own words (may stay empty)"), max_length=120, required=False
    )
    note = forms.CharField(label=_("Note"), max_length=300, required=False)

    def clean(self) -> dict[str, Any]:
        """Something else than the usual kinds needs words of its own."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        if data.get("kind") == Requirement.Kind.OTHER and not data.get("title"):
            self.add_error("title", gettext("Say in a few words what is asked."))
        return data


class RewordForm(forms.Form):
    """Change the words of a requirement."""

    title = forms.CharField(label=_("What is asked"), max_length=120)
    note = forms.CharField(label=_("Note"), max_length=300, required=False)


class QuestionForm(forms.Form):
    """Write a question: `cleaned_data["asked"]` is the engine's record of it."""

    text = forms.CharField(
        label=_("Question"),
        max_length=LONGEST_TEXT,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    right = forms.TypedChoiceField(
        coerce=int,
        choices=[(n, n) for n in range(MOST_CHOICES)],
        error_messages={"required": _("Mark the right answer.")},
    )
    why = forms.CharField(
        label=_("Why that is right"),
        max_length=LONGEST_WHY,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    source = forms.CharField(
        label=_("Where this comes from (a rule, the manual, your own)"),
        max_length=LONGEST_SOURCE,
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for n in range(MOST_CHOICES):
            self.fields[f"choice_{n}"] = forms.CharField(
                label=gettext("Answer %d") % (n + 1),
                max_length=LONGEST_CHOICE,
                required=False,
            )

    @classmethod
    def of(cls, question: Question) -> QuestionForm:
        """Return the form with a question to change."""
        choices = {f"choice_{n}": text for n, text in enumerate(question.choices)}
        plain = ("text", "right", "why", "source")
        return cls(initial=choices | {name: getattr(question, name) for name in plain})

    @property
    def answers(self) -> list[tuple[int, forms.BoundField, bool]]:
        """The answers' fields: number, field, and whether it is marked as right."""
        marked = str(self["right"].value())
        return [(n, self[f"choice_{n}"], str(n) == marked) for n in range(MOST_CHOICES)]

    def clean(self) -> dict[str, Any]:
        """Leave out empty answers; refuse what can't be asked or marked."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        filled = [n for n in range(MOST_CHOICES) if data.get(f"choice_{n}")]
        right = data.get("right")
        if right is not None and right not in filled:
            self.add_error("right", gettext("The answer marked as right is empty."))
        if self.errors:
            return data
        try:
            data["asked"] = Asked(
                text=data["text"],
                choices=tuple(data[f"choice_{n}"] for n in filled),
                right=filled.index(data["right"]),
                why=data["why"],
                source=data["source"],
            )
        except EngineError as error:
            self.add_error("right", words(error))
        return data


class CheckForm(forms.Form):
    """Answer a written check; `given` has the index chosen by question."""

    def __init__(
        self, *args: Any, questions: Sequence[Question], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.questions = questions
        for question in questions:
            self.fields[f"question_{question.pk}"] = forms.TypedChoiceField(
                coerce=int,
                choices=list(enumerate(question.choices)),
                error_messages={"required": _("Choose an answer.")},
            )

    @property
    def given(self) -> dict[int, int]:
        """What was chosen, once the form is valid."""
        return {
            question.pk: self.cleaned_data[f"question_{question.pk}"]
            for question in self.questions
        }

    @property
    def asked(self) -> list[tuple[Question, forms.BoundField, str]]:
        """Each question with its field and what is chosen of it so far."""
        bound = [(one, self[f"question_{one.pk}"]) for one in self.questions]
        return [(one, field, str(field.value() or "")) for one, field in bound]
