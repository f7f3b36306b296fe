"""Each paragraph that a caution or a question cites is one that was looked up.

Source: 29 CFR 1910.213 and the parts it leans on, as listed in osha_paragraphs.csv;
that file's head says where each was seen. A citation of a paragraph that isn't listed
fails, and so does a number known from memory only that isn't marked so.
"""

import csv
import re
from pathlib import Path

import pytest

from projects.engine.shop.cautions import CAUTIONS
from projects.engine.shop.questions import QUESTIONS

LISTED = Path(__file__).with_name("osha_paragraphs.csv")
ROWS = {
    row["citation"]: row
    for row in csv.DictReader(
        line
        for line in LISTED.read_text("utf-8").splitlines()
        if not line.startswith("#")
    )
}

QUESTION_SOURCES = [
    pytest.param(machine, question.source, id=f"{machine}-{number}")
    for machine, questions in QUESTIONS.items()
    for number, question in enumerate(questions, start=1)
]
SOURCES = [
    *(pytest.param(caution.source, id=key) for key, caution in CAUTIONS.items()),
    *(pytest.param(one.values[1], id=one.id) for one in QUESTION_SOURCES),
]

MACHINES_OF_PARAGRAPH = {
    "c": {"table_saw"},
    "d": {"table_saw"},
    "i": {"band_saw"},
    "j": {"jointer"},
    "l": {"mortiser", "drill_press"},
    "n": {"planer"},
    "p": {"sander"},
}
"""The paragraphs of 1910.213 that are about one sort of machine."""

SECTION = r"(?P<section>\b\d{3,4}\.\d+)"
TABLE = r",? Table (?P<table>[A-Z]-\d+)"
PARAGRAPH = (
    r"(?P<upto>(?: to |-)?)"
    r"(?P<letter>\([a-z]\))?(?P<number>\(\d+\))?(?P<roman>\([ivx]+\))?"
)
PIECE = re.compile(f"{SECTION}|{TABLE}|{PARAGRAPH}")


def cited(source):
    """Return every paragraph and table that a source line names, each in full.

    "29 CFR 1910.213(p)(3) and (4), disk; (s)(9)" names 1910.213(p)(3), (p)(4), (s)(9).
    """
    names, section, letter, last = [], "", "", 0
    for piece in PIECE.finditer(source):
        found = piece.groupdict()
        if found["section"]:
            section, letter = found["section"], ""
        elif found["table"]:
            names.append(f"{section} Table {found['table']}")
        elif found["letter"] or found["number"]:
            letter = found["letter"] or letter
            number = int((found["number"] or "(0)")[1:-1])
            first = last + 1 if found["upto"] and number else number
            names += [
                f"{section}{letter}" + (f"({one})" if one else "")
                for one in range(first, number + 1)
            ]
            names[-1] += found["roman"] or ""
            last = number
    return names


class TestCited:
    """The reader of citations itself, as the tests below rest on it."""

    @pytest.mark.parametrize(
        ("source", "names"),
        [
            ("29 CFR 1910.213(j)(3)", ["1910.213(j)(3)"]),
            (
                "29 CFR 1910.213(p)(3) and (4), disk; the rest common practice",
                ["1910.213(p)(3)", "1910.213(p)(4)"],
            ),
            (
                "29 CFR 1910.213(c)(1) to (3), hood; (s)(9), sticks (paragraph from "
                "memory)",
                [
                    "1910.213(c)(1)", "1910.213(c)(2)", "1910.213(c)(3)",
                    "1910.213(s)(9)",
                ],
            ),
            ("29 CFR 1910.212(a)(3)(ii), open", ["1910.212(a)(3)(ii)"]),
            (
                "29 CFR 1910.95(a)-(b) and Table G-16; 1910.1000, Table Z-3 (dust)",
                [
                    "1910.95(a)", "1910.95(b)", "1910.95 Table G-16",
                    "1910.1000 Table Z-3",
                ],
            ),
            ("common practice, no source (as school rules give them)", []),
        ],
    )  # fmt: skip
    def test_it_names_each_in_full(self, source, names):
        assert cited(source) == names


class TestCitations:
    @pytest.mark.parametrize("source", SOURCES)
    def test_each_paragraph_cited_is_listed(self, source):
        assert [name for name in cited(source) if name not in ROWS] == []

    @pytest.mark.parametrize("source", SOURCES)
    def test_a_rule_named_is_cited_by_paragraph_or_table(self, source):
        assert source.count("1910.") == 0 or cited(source)

    @pytest.mark.parametrize(("machine", "source"), QUESTION_SOURCES)
    def test_a_number_known_from_memory_is_marked_so(self, machine, source):
        unsure = [
            name for name in cited(source) if ROWS[name]["number"] == "from memory"
        ]

        assert ("from memory)" in source) is bool(unsure), unsure

    @pytest.mark.parametrize(("machine", "source"), QUESTION_SOURCES)
    def test_a_paragraph_about_one_machine_is_cited_for_that_one(self, machine, source):
        letters = re.findall(r"1910\.213\(([a-z])\)", " ".join(cited(source)))

        for letter in letters:
            assert machine in MACHINES_OF_PARAGRAPH.get(letter, {machine})

    @pytest.mark.parametrize(
        "invented",
        ["29 CFR 1910.213(c)(9)", "29 CFR 1910.214(a)(1)", "1910.95, Table Q-1"],
    )
    def test_a_paragraph_that_does_not_exist_would_be_found(self, invented):
        assert not set(cited(invented)) & ROWS.keys()
        assert cited(invented)
