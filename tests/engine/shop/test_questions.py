"""The supplied questions: ten a machine, each fit to be asked and marked."""

import re
from collections import Counter
from dataclasses import asdict, replace

import pytest

from projects.engine.shop.machines import MACHINES, NO_MACHINE
from projects.engine.shop.questions import QUESTIONS, Question, QuestionError

EVERY = [question for questions in QUESTIONS.values() for question in questions]
each_question = pytest.mark.parametrize(
    "question",
    EVERY,
    ids=[
        f"{machine}-{number}"
        for machine, questions in QUESTIONS.items()
        for number in range(1, len(questions) + 1)
    ],
)
each_ten = pytest.mark.parametrize("questions", QUESTIONS.values(), ids=QUESTIONS)
PROMISES = re.compile(
    r"\b(?:un)?(?:safe|safely|safety|allow|legal|permi)", re.IGNORECASE
)
CITED = re.compile(r"^29 CFR 1910\.\d+")

GOOD = Question(
    text="What stops first?",
    choices=("The blade", "The dust", "The clock"),
    right=0,
    why="The others go on.",
    source="common practice, no source",
)


class TestQuestion:
    def test_a_good_one_knows_its_answer(self):
        assert GOOD.answer == "The blade"
        assert replace(GOOD, right=2).answer == "The clock"

    @pytest.mark.parametrize(
        ("field", "longest"), [("text", 300), ("why", 500), ("source", 300)]
    )
    def test_a_field_is_neither_blank_nor_too_long(self, field, longest):
        fields = asdict(GOOD)

        assert Question(**fields | {field: "x" * longest})
        for value in ("", "  ", "x" * (longest + 1)):
            with pytest.raises(QuestionError, match=f"^{field} must"):
                Question(**fields | {field: value})

    @pytest.mark.parametrize("value", ["", " ", "x" * 151])
    def test_the_choice_at_fault_is_named(self, value):
        with pytest.raises(QuestionError, match=r"^choice 2 must"):
            replace(GOOD, choices=("Yes", value))

    @pytest.mark.parametrize("count", [0, 1, 7])
    def test_there_are_two_to_six_choices(self, count):
        with pytest.raises(QuestionError, match=rf"2 to 6 \(got {count}\)"):
            replace(GOOD, choices=tuple("abcdefg"[:count]))

    @pytest.mark.parametrize("count", [2, 6])
    def test_two_and_six_will_do(self, count):
        assert replace(GOOD, choices=tuple("abcdef"[:count]))

    def test_a_choice_said_twice_is_refused(self):
        with pytest.raises(QuestionError, match="differ"):
            replace(GOOD, choices=("Yes", "No", " yes "))

    @pytest.mark.parametrize("right", [-1, 3])
    def test_the_answer_is_one_of_the_choices(self, right):
        with pytest.raises(QuestionError, match=rf"0 to 2 \(got {right}\)"):
            replace(GOOD, right=right)


class TestSupplied:
    def test_every_machine_but_the_bench_has_some(self):
        assert list(QUESTIONS) == [key for key in MACHINES if key != NO_MACHINE]

    @each_ten
    def test_there_are_ten(self, questions):
        assert len(questions) == 10

    @each_question
    def test_each_offers_three_or_four_choices(self, question):
        assert len(question.choices) in {3, 4}

    @each_ten
    def test_no_position_is_right_more_than_four_times(self, questions):
        assert max(Counter(question.right for question in questions).values()) <= 4

    @pytest.mark.parametrize("pick", [max, min])
    @each_ten
    def test_length_does_not_give_the_answer_away(self, questions, pick):
        told = [
            question
            for question in questions
            if [len(question.answer)] == picked_lengths(question, pick)
        ]

        assert len(told) <= 4

    def test_none_is_asked_twice(self):
        assert len({question.text for question in EVERY}) == len(EVERY)
        assert len({question.answer for question in EVERY}) == len(EVERY)
        assert len({question.why for question in EVERY}) == len(EVERY)

    @each_question
    def test_nothing_is_called_safe_or_allowed(self, question):
        said = (question.text, *question.choices, question.why)

        assert not [words for words in said if PROMISES.search(words)]

    @each_question
    def test_the_source_is_a_rule_or_owned_up_to_be_none(self, question):
        assert CITED.match(question.source) or "no source" in question.source

    @each_ten
    def test_the_manual_is_named_once_at_most(self, questions):
        said = [question for question in questions if "manual" in question.why]

        assert len(said) <= 1


def picked_lengths(question, pick):
    """Return the lengths of all choices that are as long as the longest (shortest)."""
    lengths = [len(choice) for choice in question.choices]
    return [length for length in lengths if length == pick(lengths)]
