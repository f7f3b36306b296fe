"""One question of a written check, which checks itself."""

from __future__ import annotations

from dataclasses import dataclass

from projects.engine.errors import EngineError

FEWEST_CHOICES = 2
MOST_CHOICES = 6
LONGEST_TEXT = 300
LONGEST_CHOICE = 150
LONGEST_WHY = 500
LONGEST_SOURCE = 300


class QuestionError(EngineError):
    """Tell that a question has a field that is empty, too long or contradicts."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """Ask one thing about a machine; `choices[right]` is the answer.

    `why` explains the right answer to someone who chose another; `source` says what
    it rests on.

    Raises
    ------
    QuestionError
        A field is blank or too long, there are fewer than 2 or more than 6 choices,
        two are the same, or `right` is not the position of one.
    """

    text: str
    choices: tuple[str, ...]
    right: int
    why: str
    source: str

    def __post_init__(self) -> None:
        """Refuse what could not be asked or marked."""
        _check_length("text", self.text, LONGEST_TEXT)
        _check_length("why", self.why, LONGEST_WHY)
        _check_length("source", self.source, LONGEST_SOURCE)
        for number, choice in enumerate(self.choices, start=1):
            _check_length(f"choice {number}", choice, LONGEST_CHOICE)
        self._check_choices()

    def _check_choices(self) -> None:
        count = len(self.choices)
        if not FEWEST_CHOICES <= count <= MOST_CHOICES:
            raise QuestionError(
                "choices must be {fewest} to {most} (got {count})",
                fewest=FEWEST_CHOICES,
                most=MOST_CHOICES,
                count=count,
            )
        if len({choice.strip().casefold() for choice in self.choices}) < count:
            raise QuestionError("choices must differ from each other")
        if not 0 <= self.right < count:
            raise QuestionError(
                "right must be from 0 to {last} (got {right})",
                last=count - 1,
                right=self.right,
            )

    @property
    def answer(self) -> str:
        """Return the right choice."""
        return self.choices[self.right]


def _check_length(name: str, value: str, longest: int) -> None:
    if not value.strip():
        raise QuestionError("{name} must not be blank", name=name)
    if len(value) > longest:
        raise QuestionError(
            "{name} must have at most {longest} characters (got {count})",
            name=name,
            longest=longest,
            count=len(value),
        )
