"""Movement of wood against the Wood Handbook's worked example and its table.

Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), chapter 13:
Eq. 13-2, Table 13-5, and the example on the page after the table (its results were
seen; its species, moistures and coefficient are from memory, and reproduce them).
The further examples were seen on pages that quote the handbook; the red oak one gives
its inputs, its answer is computed.
"""

from fractions import Fraction

import pytest

from projects.engine.units import decimal_text
from projects.engine.wood import dimensional_change_mm, find_species


def movement(name):
    """Return the movement of a species, which must have one."""
    species = find_species(name)
    assert species is not None
    assert species.movement is not None
    return species.movement


def change(width, coefficient, low, high):
    """Return how much wider a board gets, in the unit of its width."""
    return Fraction(
        dimensional_change_mm(
            width_mm=width, coefficient=coefficient, from_pct=low, to_pct=high
        )
    )


WHITE_FIR = movement("white fir").tangential

# width, coefficient, moisture before and after, printed change
EXAMPLES = [
    ("9.15", WHITE_FIR, 8, 11, "0.067"),
    ("232", WHITE_FIR, 8, 11, "1.7"),
    ("5", Fraction("0.00129"), 6, 9, "0.019"),
    ("11.25", Fraction("0.00369"), 8, 12, "0.166"),
    ("8", Fraction("0.0026"), 6, 12, "0.1248"),
]

# Table 13-5, the rows seen in the source's own text: radial, tangential
SEEN = {
    "red alder": ("0.00151", "0.00256"),
    "white ash": ("0.00169", "0.00274"),
    "basswood": ("0.00230", "0.00330"),
    "beech": ("0.00190", "0.00431"),
    "yellow birch": ("0.00256", "0.00338"),
    "black cherry": ("0.00126", "0.00248"),
    "sugar maple": ("0.00165", "0.00353"),
    "red maple": ("0.00137", "0.00289"),
    "silver maple": ("0.00102", "0.00252"),
    "red oak": ("0.00158", "0.00369"),
    "white oak": ("0.00180", "0.00365"),
    "black walnut": ("0.00190", "0.00274"),
    "butternut": ("0.00116", "0.00223"),
    "sycamore": ("0.00172", "0.00296"),
}

# Table 4-3, shrinkage from green to ovendry [%], radial and tangential
SHRINKAGE = {
    "white ash": ("4.9", "7.8"),
    "black cherry": ("3.7", "7.1"),
    "sugar maple": ("4.8", "9.9"),
    "yellow-poplar": ("4.6", "8.2"),
    "coast Douglas-fir": ("4.8", "7.6"),
    "white fir": ("3.3", "7.0"),
    "western hemlock": ("4.2", "7.8"),
    "loblolly pine": ("4.8", "7.4"),
    "longleaf pine": ("5.1", "7.5"),
    "Engelmann spruce": ("3.8", "7.1"),
}


@pytest.mark.parametrize(("width", "coefficient", "low", "high", "printed"), EXAMPLES)
def test_the_printed_change(width, coefficient, low, high, printed):
    found = change(Fraction(width), coefficient, low, high)

    assert decimal_text(found, len(printed.partition(".")[2])) == printed


@pytest.mark.parametrize(("width", "printed"), [("9.15", "9.217"), ("232", "233.7")])
def test_the_printed_new_width(width, printed):
    grown = Fraction(width) + change(Fraction(width), WHITE_FIR, 8, 11)

    assert decimal_text(grown, len(printed.partition(".")[2])) == printed


@pytest.mark.parametrize("name", SEEN)
def test_the_table_as_printed(name):
    found = movement(name)

    assert (found.radial, found.tangential) == tuple(map(Fraction, SEEN[name]))
    assert "seen in the source's own text" in found.source


@pytest.mark.parametrize("name", SHRINKAGE)
def test_remembered_rows_follow_from_the_shrinkage_table(name):
    """S / (3000 − 20 S): an observed identity, not a printed formula.

    It holds to the five decimals the table prints.
    """
    found = movement(name)
    derived = [
        decimal_text(s / (3000 - 20 * s), 5) for s in map(Fraction, SHRINKAGE[name])
    ]

    assert derived == [decimal_text(c, 5) for c in (found.radial, found.tangential)]
