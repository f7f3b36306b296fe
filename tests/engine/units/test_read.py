"""Reading lengths: every form the plan file lists, and what is refused."""

import re
import unicodedata
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from projects.engine.errors import LengthError
from projects.engine.units import MAX_MM, exact_text, mm_per, read_length, read_number

IN = Fraction(254, 10)
FOOT = 12 * IN
lawful = settings(derandomize=True, max_examples=400, deadline=None)


class TestReadLength:
    @pytest.mark.parametrize(
        ("text", "inches"),
        [
            ("3/4", "3/4"),
            ("23 5/8", "189/8"),
            ("23-5/8", "189/8"),
            ("23.625", "189/8"),
            ("1 ft 3 1/2 in", "31/2"),
            ("1' 3-1/2\"", "31/2"),
            ("1'3\"", "15"),
            ("1′ 3 1/2″", "31/2"),
            ("1′ 3-½″", "31/2"),
            ("½", "1/2"),
            ("¾", "3/4"),
            ("⅜ in", "3/8"),
            ("5½", "11/2"),
            ("5 ½", "11/2"),
            ("5-½", "11/2"),
            ("5 1⁄2", "11/2"),
            ("3 ⅝ in.", "29/8"),
            ('36"', "36"),
            ("36''", "36"),
            ("36 INCHES", "36"),
            ("1 inch", "1"),
            ("2 feet", "24"),
            ("1 foot", "12"),
            ("1.5 ft", "18"),
            ("1 ft 0 in", "12"),
            ("1 ft 3", "15"),
            (".75", "3/4"),
            ("5.", "5"),
            ("  6  ", "6"),
            ("6\u00a01/2", "13/2"),
        ],
    )
    def test_inches(self, text, inches):
        read = read_length(text)

        assert read.mm == Fraction(inches) * IN
        assert read.unit == "in"

    @pytest.mark.parametrize(
        ("text", "mm"),
        [("19 mm", "19"), ("19mm", "19"), ("1.9 cm", "19"), ("0.019 m", "19"),
         ("20 m", "20000"), ("18.35 mm", "367/20"), ("1/2 mm", "1/2")],
    )  # fmt: skip
    def test_metric(self, text, mm):
        read = read_length(text)

        assert read.mm == Fraction(mm)
        assert read.unit == "mm"

    def test_a_bare_number_is_in_the_plans_unit(self):
        assert read_length("19", unit="mm").mm == 19
        assert read_length("19 1/2", unit="mm").mm == Fraction(39, 2)
        assert read_length("19", unit="in").mm == 19 * IN

    def test_after_feet_a_bare_number_is_inches_in_a_metric_plan_too(self):
        assert read_length("1 ft 3", unit="mm").mm == 15 * IN

    @pytest.mark.parametrize("sign", list("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"))
    def test_every_vulgar_fraction(self, sign):
        top, bottom = unicodedata.normalize("NFKD", sign).split("⁄")

        assert read_length(f"2{sign}").mm == (2 + Fraction(int(top), int(bottom))) * IN

    @pytest.mark.parametrize(
        "text",
        [
            "", " ", "abc", "3/", "/4", "3//4", "1/2/3", "3/0", "0/5", "0", "0.0",
            "-3", "−3", "-1/2", "1 5/4", "1 1/2 1/2", "1½½", "1 2 3", "1,5", "1.2.3",
            "3 in 2 in", "1 ft 2 ft", "1 ft 2 mm", "3 mm 2", "3 furlongs",
            "3 mm.", "1e3", "1E3", "nan", "NaN", "inf", "Infinity", "1_000", "0x10",
            "٣", "３", "3\x00", "2 1/2\n1", "+3", "ft", "in", "'", "\"", "1/-2", "½/2",
            "1/½", "1.5½", "1.5 1/2", "1e999999999", "9" * 150, "1 / / 2", "20.001 m",
            "65 ft 8 in", "788", "1' 2' 3\"",
        ],
    )  # fmt: skip
    def test_is_refused_with_the_place_and_what_was_read(self, text):
        with pytest.raises(LengthError) as refused:
            read_length(text, field="joints[2].depth")

        assert str(refused.value).startswith("joints[2].depth: ")
        assert repr(text) in str(refused.value)
        assert "\n" not in str(refused.value)

    @pytest.mark.parametrize("value", [None, 3, 0.5, True, [], {}])
    def test_anything_but_text_is_refused(self, value):
        with pytest.raises(LengthError, match=r"^shelf: "):
            read_length(value, field="shelf")

    def test_20_m_is_the_longest(self):
        assert read_length("20 m").mm == MAX_MM == 20_000
        with pytest.raises(LengthError, match="at most 20 m"):
            read_length("20000.0001 mm")

    def test_a_long_text_is_refused_and_not_repeated_whole(self):
        with pytest.raises(LengthError, match="too long") as refused:
            read_length("1" * 100_000)

        assert len(str(refused.value)) < 200

    @lawful
    @given(st.text(max_size=40))
    @example("\ud800")
    @example("1\u2028/2")
    def test_no_text_raises_anything_else(self, text):
        said = "1"
        try:
            read_mm = read_length(text).mm
        except LengthError as error:
            said, read_mm = str(error), MAX_MM

        assert len(said.splitlines()) == 1
        assert 0 < read_mm <= MAX_MM

    @lawful
    @given(st.text(alphabet="0123456789/.-' \"½⅜ftinmc′″", max_size=14))
    def test_no_text_made_of_the_signs_of_lengths_does_either(self, text):
        try:
            read = read_length(text)
        except LengthError:
            return
        assert read_length(exact_text(read.mm, unit=read.unit)) == read

    @pytest.mark.parametrize("bottom", [2**300, 10**100 + 1, 3 * 2**200])
    def test_what_is_accepted_reads_back_however_odd(self, bottom):
        try:
            read = read_length(f"1/{bottom}")
        except LengthError:
            return
        assert read_length(exact_text(read.mm, unit=read.unit)) == read


wholes = st.integers(0, 600)
fractions = st.sampled_from([2, 4, 8, 16, 32, 64, 3, 5, 10, 100]).flatmap(
    lambda bottom: st.tuples(st.integers(1, bottom - 1), st.just(bottom))
)
spaces = st.sampled_from(["", " ", "  "])


@st.composite
def numbers(draw):
    """Draw a number as text, with its exact value."""
    whole, (top, bottom) = draw(wholes), draw(fractions)
    kind = draw(st.sampled_from(["whole", "fraction", "mixed", "decimal"]))
    if kind == "whole":
        return f"{whole + 1}", Fraction(whole + 1)
    if kind == "fraction":
        return f"{top}/{bottom}", Fraction(top, bottom)
    if kind == "mixed":
        joined = draw(st.sampled_from([" ", "-", "  "]))
        return f"{whole}{joined}{top}/{bottom}", whole + Fraction(top, bottom)
    digits = draw(st.text("0123456789", min_size=1, max_size=8))
    value = Fraction(int(f"{whole + 1}{digits}"), 10 ** len(digits))
    return f"{whole + 1}.{digits}", value


@st.composite
def lengths(draw):
    """Draw a well-formed length as text, with its exact millimetres."""
    text, value = draw(numbers())
    space = draw(spaces)
    unit, size = draw(st.sampled_from([
        ("in", IN), ("inch", IN), ('"', IN), ("″", IN), ("", IN), ("mm", Fraction(1)),
        ("cm", Fraction(10)),
    ]))  # fmt: skip
    if draw(st.booleans()):
        feet = draw(st.integers(0, 10))
        mark = draw(st.sampled_from(["'", " ft ", "′ ", " feet "]))
        end = draw(st.sampled_from(["", " in", '"']))
        return f"{feet}{mark}{text}{end}", feet * FOOT + value * IN
    return f"{text}{space}{unit}", value * size


class TestWellFormed:
    @lawful
    @given(lengths())
    def test_reads_to_the_exact_value_and_back(self, length):
        text, mm = length
        if mm > MAX_MM:
            with pytest.raises(LengthError, match="at most 20 m"):
                read_length(text)
            return

        read = read_length(text)

        assert read.mm == mm
        assert read_length(exact_text(read.mm, unit=read.unit)) == read

    @lawful
    @given(lengths(), st.sampled_from(["in", "mm"]))
    def test_reads_back_in_the_other_unit_too(self, length, unit):
        _text, mm = length
        if mm <= MAX_MM:
            assert read_length(exact_text(mm, unit=unit)).mm == mm


class TestReadNumber:
    @pytest.mark.parametrize(
        ("text", "value"),
        [("0.742", "0.742"), ("36", "36"), ("1e1", "10"), ("1.5E-1", "0.15"),
         ("0.1", "1/10"), ("1e-5", "0.00001")],
    )  # fmt: skip
    def test_stays_exact(self, text, value):
        assert read_number(text, unit="in", field="f").mm == Fraction(value) * IN
        assert read_number(text, unit="mm", field="f").mm == Fraction(value)

    @pytest.mark.parametrize(
        "text",
        ["0", "-1", "-0.0", "NaN", "Infinity", "-Infinity", "1e5", "1e999999999",
         "1e-999999999", "1e-150",
         "-1e999999999", "20000.1", "0e999999999", "1" + "0" * 5000,
         "1e99999999999999999999", "1e-99999999999999999999"],
    )  # fmt: skip
    def test_is_refused_with_the_place(self, text):
        with pytest.raises(LengthError, match=r"^stock\[0\]\.thickness: ") as refused:
            read_number(text, unit="mm", field="stock[0].thickness")

        assert re.search(r"\(read: .*\)$", str(refused.value))
        assert len(str(refused.value)) < 250


class TestMmPer:
    def test_the_international_inch(self):
        assert mm_per("in") == Fraction(254, 10)
        assert mm_per("ft") == 12 * mm_per("in")
