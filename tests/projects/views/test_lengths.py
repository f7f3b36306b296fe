"""What the server understands of a length being typed."""

import pytest
from django.urls import reverse


@pytest.fixture
def read(as_student):
    """Ask what a text means, as the field does while somebody types."""

    def get(typed, **more):
        query = {"length": typed, "tape": 16, "units": "in", **more}
        answered = as_student.get(reverse("length-read"), query)
        assert answered.status_code == 200
        return answered.content.decode()

    return get


@pytest.mark.parametrize(
    ("typed", "heard"),
    [
        ("23 5/8", "23 and 5 eighths inches"),
        ("0.742", "3 quarters of an inch scant"),
        ("19 mm", "3 quarters of an inch scant"),
        ("1' 3-1/2\"", "15 and 1 half inches"),
    ],
)
def test_it_says_the_length_back(typed, heard, read):
    assert heard in read(typed)


def test_it_says_it_in_all_three_ways(read):
    said = read("3/4")

    assert "3 quarters of an inch" in said
    # 19.05, rounded half to even
    assert "0.750 in = 19.0 mm" in said


def test_a_bare_number_is_in_the_plans_unit(read):
    assert "= 19.0 mm" in read("19", units="mm")
    assert "19 inches" in read("19")


@pytest.mark.parametrize("typed", ["wide", "3/", "0", "<b>7</b>", "1/0", "9" * 5000])
def test_what_is_not_read_is_told_escaped(typed, read):
    said = read(typed)

    assert "Not read yet:" in said
    assert "<b>" not in said


def test_nothing_says_nothing(read):
    assert not read(" ").strip()


@pytest.mark.parametrize("tape", ["7", "", "x", "0", "-16"])
def test_a_tape_nobody_has_is_a_sixteenth(tape, read):
    assert "3 quarters of an inch scant" in read("0.742", tape=tape)


def test_it_costs_two_queries(read, django_assert_num_queries):
    with django_assert_num_queries(2):  # session and user
        read("0.742")
