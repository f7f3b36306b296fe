"""What is written down of each kind of machine, and reading what was typed."""

from fractions import Fraction

import pytest

from projects.engine.errors import LengthError
from projects.engine.shop.equipment import (
    DUSTY,
    EQUIPMENT,
    MOST_LENGTHS,
    read_equipment,
    read_lengths,
    with_unit,
)
from projects.engine.shop.machines import MACHINES, NO_MACHINE

IN = Fraction(254, 10)
MM = Fraction(1)


class TestEquipment:
    def test_every_kind_but_the_bench_has_some(self):
        assert list(EQUIPMENT) == [kind for kind in MACHINES if kind != NO_MACHINE]
        assert all(EQUIPMENT.values())
        assert EQUIPMENT.keys() >= DUSTY

    @pytest.mark.parametrize("kind", EQUIPMENT)
    def test_no_key_and_no_label_stands_twice(self, kind):
        keys = [measure.key for measure in EQUIPMENT[kind]]
        labels = [measure.label for measure in EQUIPMENT[kind]]

        assert len(set(keys)) == len(keys)
        assert len(set(labels)) == len(labels)
        assert all(measure.meaning for measure in EQUIPMENT[kind])


class TestReadLengths:
    def test_without_units_they_are_inches(self):
        assert read_lengths("1/8, 1/8,1/16") == (IN / 8, IN / 8, IN / 16)

    def test_a_unit_behind_the_last_is_meant_for_all(self):
        assert read_lengths("3, 3; 1.5 mm") == (MM * 3, MM * 3, MM * 3 / 2)

    def test_each_with_its_own_unit(self):
        assert read_lengths('1/8 in, 3 mm, 1/4"') == (IN / 8, MM * 3, IN / 4)

    def test_one_alone(self):
        assert read_lengths("3 mm") == (MM * 3,)

    def test_a_unit_in_the_middle_alone_is_refused(self):
        with pytest.raises(LengthError, match="give each length its unit"):
            read_lengths("1/8, 3 mm, 1/4", field="Bits")

    @pytest.mark.parametrize("text", ["", "1/8,", "1/8, wide", ",", "0, 1/8"])
    def test_what_is_no_list_is_refused(self, text):
        with pytest.raises(LengthError, match="Bits"):
            read_lengths(text, field="Bits")

    def test_a_list_without_end_is_refused(self):
        assert len(read_lengths(",".join(["1/8"] * MOST_LENGTHS))) == MOST_LENGTHS
        with pytest.raises(LengthError, match="at most 60"):
            read_lengths(",".join(["1/8"] * (MOST_LENGTHS + 1)))


class TestReadEquipment:
    def test_it_has_what_was_typed_by_key(self):
        typed = {"kerf": "1/8", "dado_chippers": "1/8, 1/16", "shortest": ""}

        assert read_equipment("table_saw", typed) == {
            "kerf": (IN / 8,),
            "dado_chippers": (IN / 8, IN / 16),
        }

    def test_what_its_kind_has_not_is_left_out(self):
        assert read_equipment("router", {"kerf": "1/8"}) == {}

    def test_what_cant_be_read_names_its_place(self):
        with pytest.raises(LengthError, match="Kerf"):
            read_equipment("table_saw", {"kerf": "1/8, 1/4"})


class TestWithUnit:
    @pytest.mark.parametrize(
        ("typed", "told"),
        [
            ("1/8", "1/8 in"),
            ("1/8, 1/16", "1/8, 1/16 in"),
            ("3; 1.5 mm", "3; 1.5 mm"),
            ('12"', '12"'),
            ("1 ft 3", "1 ft 3"),
        ],
    )
    def test_it_is_the_one_it_was_read_in(self, typed, told):
        assert with_unit(typed) == told
        assert read_lengths(told) == read_lengths(typed)
