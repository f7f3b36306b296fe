"""A document as a plan file and back."""

import json

import pytest

from projects import demo
from projects.engine import draft
from projects.engine.errors import EngineError
from projects.engine.plan.reader import read_plan
from tests.engine.builds import boot_bench


@pytest.mark.parametrize("name", ["hall_boot_bench", "step_stool"])
def test_the_demo_plans_come_out_letter_for_letter(name):
    text = (demo.PLANS / f"{name}.json").read_text("utf-8")

    assert draft.plan_text(draft.read_document(text)) == text


def test_a_number_stays_as_exact_as_it_was_written():
    document = boot_bench()
    document["joints"][0]["depth"] = "HERE"
    text = json.dumps(document).replace('"HERE"', "0.3333333333")
    again = draft.read_document(text)
    long = draft.read_document(text.replace("0.3333333333", "3.5e-1"))

    assert again["joints"][0]["depth"] == "0.3333333333"
    assert long["joints"][0]["depth"] == "0.35"
    assert read_plan(draft.plan_text(again)).joints == read_plan(text).joints


def test_the_order_of_fields_does_not_matter():
    document = boot_bench()
    turned = {
        name: [dict(reversed(entry.items())) for entry in value]
        if name in ("stock", "parts", "joints", "distances")
        else value
        for name, value in reversed(document.items())
    }

    assert draft.plan_text(turned) == draft.plan_text(document)


def test_what_is_not_known_is_written_too():
    document = draft.blank("Odd") | {
        "colour": {"b": 1, "a": [2]}, "parts": [3, {"key": "x", "zeal": 1}],
        "title": "\ud800",
    }  # fmt: skip
    text = draft.plan_text(document)

    assert json.loads(text) == document
    assert text.encode()


def test_a_file_the_reader_refuses_is_not_taken_in():
    with pytest.raises(EngineError, match="the field title is missing"):
        draft.read_document('{"format": "shopclass-plan", "version": 1}')
