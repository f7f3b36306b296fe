"""Species by name, and the limits of the wood formulas."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projects.engine.errors import EngineError
from projects.engine.wood import (
    WoodError,
    bending_deflection_mm,
    dimensional_change_mm,
    equilibrium_moisture_pct,
    find_species,
    load_case,
    rectangle_inertia_mm4,
    rectangle_shear_area_mm2,
    shear_deflection_mm,
)
from projects.engine.wood.species import movements, stiffnesses
from projects.engine.wood.table import read_table

BOARD = {"width_mm": 100, "coefficient": Fraction("0.002")}
BEAM = {"load_n": 400, "span_mm": 900}


def movement(name):
    """Return the movement of a species, which must have one."""
    species = find_species(name)
    assert species is not None
    assert species.movement is not None
    return species.movement


def stiffness(name):
    """Return the stiffness of a species, which must have one."""
    species = find_species(name)
    assert species is not None
    assert species.stiffness is not None
    return species.stiffness


def moved(**more):
    return dimensional_change_mm(**{**BOARD, "from_pct": 8, "to_pct": 12, **more})


def bent(**more):
    sizes = {"moe_mpa": 10_000, "inertia_mm4": 200_000}
    return bending_deflection_mm(**{**BEAM, **sizes, **more})


def sheared(**more):
    sizes = {"shear_modulus_mpa": 700, "shear_area_mm2": 5_000}
    return shear_deflection_mm(**{**BEAM, **sizes, **more})


class TestFindSpecies:
    @pytest.mark.parametrize(
        "text",
        ["yellow-poplar", "Yellow Poplar", " yellow  poplar ", "YELLOWPOPLAR", "poplar",
         "tulip-poplar", "Poplar, yellow", "yellow-poplar (tulip)"],
    )  # fmt: skip
    def test_one_wood_by_many_spellings(self, text):
        found = find_species(text)

        assert found is not None
        assert found.name == "yellow-poplar"

    @pytest.mark.parametrize(
        ("text", "tangential", "moe_mpa"),
        [
            ("red oak", "0.00369", 10300),
            ("northern red oak", "0.00369", 12500),
            ("white oak", "0.00365", 12300),
            ("hard maple", "0.00353", 11200),
            ("sugar maple", "0.00353", 12600),
            ("soft maple", "0.00289", 7900),
            ("red maple", "0.00289", 11300),
            ("cherry", "0.00248", 10300),
            ("walnut", "0.00274", 11600),
            ("eastern white pine", "0.00212", 8500),
            ("Douglas fir", "0.00267", 13400),
        ],
    )
    def test_figures(self, text, tangential, moe_mpa):
        assert movement(text).tangential == Fraction(tangential)
        assert stiffness(text).moe_mpa == moe_mpa

    def test_a_group_says_what_its_name_stands_for(self):
        group, one = find_species("red oak"), find_species("white oak")

        assert group is not None
        assert one is not None
        assert "bends more" in group.note
        assert not one.note

    @pytest.mark.parametrize(
        "text", ["", "pine", "maple", "oak", "fir", "hickory", "spruce", "plastic"]
    )
    def test_a_name_for_woods_that_differ_is_not_known(self, text):
        assert find_species(text) is None

    def test_a_table_may_lack_a_species(self):
        cedar, sassafras = map(find_species, ("western red cedar", "sassafras"))

        assert cedar is not None
        assert sassafras is not None
        assert cedar.movement is None
        assert sassafras.stiffness is None

    def test_every_row_is_reached_by_its_own_name(self):
        for name in movements():
            assert movement(name) == movements()[name]
        for name in stiffnesses():
            assert stiffness(name).moe_mpa

    @pytest.mark.parametrize("table", ["movement", "stiffness", "beams"])
    def test_every_figure_has_a_source_and_a_status(self, table):
        assert all(row["source"] and row["status"] for row in read_table(table))

    def test_every_species_has_a_figure(self):
        assert all(row["movement"] or row["stiffness"] for row in read_table("species"))

    @given(st.text(max_size=30))
    def test_any_text_is_a_species_or_not_known(self, text):
        found = find_species(text)

        assert found is None or found.name


class TestMovement:
    def test_by_hand(self):
        """100 mm × 0.002 × (12 − 8) = 0.8 mm, exactly."""
        assert moved() == Fraction(4, 5)
        assert moved(from_pct=12, to_pct=8) == Fraction(-4, 5)

    def test_floats_answer_in_floats(self):
        assert moved(width_mm=100.0) == pytest.approx(0.8)

    @pytest.mark.parametrize("pct", [5.99, 14.01, float("nan"), -1, 30])
    def test_moisture_outside_6_to_14_is_refused(self, pct):
        with pytest.raises(WoodError, match="from_pct must be 6 to 14 % moisture"):
            moved(from_pct=pct)
        with pytest.raises(WoodError, match="to_pct must be 6 to 14 % moisture"):
            moved(to_pct=pct)

    def test_the_limits_themselves_are_allowed(self):
        assert moved(from_pct=6, to_pct=14) == Fraction(8, 5)

    @pytest.mark.parametrize("name", ["width_mm", "coefficient"])
    @pytest.mark.parametrize("value", [0, -1, float("inf"), float("nan")])
    def test_a_size_not_above_0_is_refused(self, name, value):
        with pytest.raises(EngineError, match=f"{name} must be above 0"):
            moved(**{name: value})

    @given(st.fractions(6, 14), st.fractions(6, 14), st.fractions(1, 1000))
    def test_there_and_back_is_nothing_and_twice_the_width_twice_as_much(
        self, low, high, width
    ):
        there = moved(width_mm=width, from_pct=low, to_pct=high)

        assert there == -moved(width_mm=width, from_pct=high, to_pct=low)
        assert moved(width_mm=2 * width, from_pct=low, to_pct=high) == 2 * there


class TestMoisture:
    def test_dry_air_dries_wood_out(self):
        assert equilibrium_moisture_pct(temperature_c=20, humidity_pct=0) == 0

    @given(st.floats(-2, 55), st.floats(0, 94))
    def test_damper_air_makes_damper_wood(self, temperature, humidity):
        low, high = (
            equilibrium_moisture_pct(temperature_c=temperature, humidity_pct=h)
            for h in (humidity, humidity + 1)
        )

        assert 0 <= low < high < 30

    @pytest.mark.parametrize("value", [-2.1, 55.1, float("nan")])
    def test_other_temperatures_are_refused(self, value):
        with pytest.raises(WoodError, match="temperature_c must be -2 to 55 °C"):
            equilibrium_moisture_pct(temperature_c=value, humidity_pct=50)

    @pytest.mark.parametrize("value", [-0.1, 95.1, float("nan")])
    def test_other_humidities_are_refused(self, value):
        with pytest.raises(WoodError, match="humidity_pct must be 0 to 95 %"):
            equilibrium_moisture_pct(temperature_c=20, humidity_pct=value)


class TestBeams:
    def test_bending_by_hand(self):
        """5 × 400 × 900³ / (384 × 10 000 × 200 000) = 1.8984… mm."""
        assert bent() == Fraction(5 * 400 * 900**3, 384 * 10_000 * 200_000)

    def test_shear_by_hand(self):
        """400 × 900 / (8 × 700 × 5000) = 0.01286 mm."""
        assert sheared() == Fraction(400 * 900, 8 * 700 * 5_000)

    def test_a_rectangle(self):
        """12 × 2³ / 12 = 8 mm⁴, and 5/6 × 12 × 2 = 20 mm²."""
        assert rectangle_inertia_mm4(width_mm=12, depth_mm=2) == 8
        assert rectangle_shear_area_mm2(width_mm=12, depth_mm=2) == 20

    @given(st.fractions(1, 3000), st.fractions(1, 3000))
    def test_twice_the_span_under_the_same_load_bends_8_times(self, span, load):
        assert bent(span_mm=2 * span, load_n=load) == 8 * bent(
            span_mm=span, load_n=load
        )

    @pytest.mark.parametrize("name", ["load_n", "span_mm", "moe_mpa", "inertia_mm4"])
    def test_bending_of_nothing_is_refused(self, name):
        with pytest.raises(WoodError, match=f"{name} must be above 0"):
            bent(**{name: 0})

    @pytest.mark.parametrize("name", ["shear_modulus_mpa", "shear_area_mm2"])
    def test_shear_of_nothing_is_refused(self, name):
        with pytest.raises(WoodError, match=f"{name} must be above 0"):
            sheared(**{name: 0})

    def test_a_case_the_table_lacks_is_refused(self):
        with pytest.raises(WoodError, match="no constants for a cantilever beam"):
            load_case(support="cantilever")
