"""Parts too small for a machine of the shop, by hand."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from projects.engine.checks import Limit, Machine, ShopError, ShopLimits
from projects.engine.checks.limits import JOINTER
from tests.engine.builds import IN, data, part, size, solved
from tests.engine.checks.pieces import PLY, POPLAR, amounts, found, made


def board(length="20", width="4", thickness="3/4", kind="solid"):
    """Return one board, 20 × 4 × 3/4 in unless told."""
    of = data(
        [part("bit", "xyz")],
        distances=[
            size("bit", "length", "xyz", length),
            size("bit", "width", "xyz", width),
        ],
    )
    of["stock"] = [POPLAR | {"thickness": thickness, "kind": kind}]
    return solved(of)


def pair(*, right):
    """Return a left and a right rail, 9 in and `right` long."""
    return made(
        [part("left", "xyz", pair="right"), part("right", "xyz", pair="left")],
        distances=[size("left", "length", "xyz", "9"),
                   size("right", "length", "xyz", right),
                   size("left", "width", "xyz", "4"),
                   size("right", "width", "xyz", "4")],
    )  # fmt: skip


def test_12_in_is_long_enough():
    assert not found(board(length="12"), "machine_size")


def test_a_shorter_part_names_each_machine():
    (finding,) = found(board(length="11 63/64"), "machine_size")

    assert finding.key == "machine_size/part:bit/length"
    assert finding.level == "advice"
    assert amounts(finding) == {
        "length": 11 + Fraction(63, 64), "jointer": 12, "planer": 12, "table saw": 12,
    }  # fmt: skip
    assert str(finding.what) == (
        "Bit: 11 63/64 in long, less than the jointer (12 in), planer (12 in), table "
        "saw (12 in) of this shop should take"
    )
    assert "Popular Woodworking no. 165" in finding.source
    assert "from memory" in finding.source


def test_a_machine_the_shop_lacks_is_not_named():
    shop = ShopLimits(planer=None, jointer=None)
    (finding,) = found(board(length="11"), "machine_size", shop)

    assert set(amounts(finding)) == {"length", "table saw"}
    assert not found(board(length="11"), "machine_size", replace(shop, table_saw=None))


@pytest.mark.parametrize(
    ("thickness", "machines"),
    [
        ("1/4", set()),
        ("15/64", {"jointer"}),
        ("3/16", {"jointer"}),
        ("11/64", {"jointer", "planer"}),
    ],
)
def test_thin_boards(thickness, machines):
    """The jointer takes 1/4 in, the planer 3/16."""
    told = found(board(thickness=thickness), "machine_size")

    assert {name for f in told for name in amounts(f)} - {"thickness"} == machines
    assert all(f.key == "machine_size/part:bit/thickness" for f in told)


def test_a_shop_may_say_how_narrow():
    shop = ShopLimits(jointer=replace(JOINTER, narrowest_mm=Limit(value=3 * IN)))

    assert not found(board(width="3"), "machine_size", shop)
    (finding,) = found(board(width="2 63/64"), "machine_size", shop)
    assert finding.key == "machine_size/part:bit/width"
    assert not found(board(width="1"), "machine_size")


def test_sheets_are_only_sawn():
    """1/8 in plywood, 9 in long: the saw only."""
    of = board(length="9", thickness="1/8", kind=PLY["kind"])
    (finding,) = found(of, "machine_size")

    assert set(amounts(finding)) == {"length", "table saw"}


def test_a_pair_is_told_once_where_it_is_alike():
    alike = found(pair(right="9"), "machine_size")
    differing = found(pair(right="10"), "machine_size")

    assert [f.key for f in alike] == ["machine_size/part:left+part:right/length"]
    assert [f.key for f in differing] == [
        "machine_size/part:left/length", "machine_size/part:right/length"]  # fmt: skip


class TestShopLimits:
    @pytest.mark.parametrize(
        ("field", "value", "why"),
        [
            ("lip_mm", Fraction(0), "above 0"),
            ("slot_share", Fraction(-1), "above 0"),
            ("slot_share", Fraction(3, 2), "at most 1"),
        ],
    )
    def test_a_limit_without_sense_is_refused(self, field, value, why):
        limits: dict[str, Any] = {field: Limit(value=value)}

        with pytest.raises(ShopError, match=f"{field} must be {why}"):
            ShopLimits(**limits)

    def test_a_machine_without_sense_is_refused(self):
        planer = Machine(name="planer", shortest_mm=Limit(value=Fraction(0)))

        with pytest.raises(ShopError, match="planer, shortest_mm must be above 0"):
            ShopLimits(planer=planer)

    @pytest.mark.parametrize(("low", "high"), [(5, 12), (8, 15), (9, 9), (12, 8)])
    def test_moistures_outside_6_to_14_or_not_rising_are_refused(self, low, high):
        with pytest.raises(ShopError, match="rise within 6 to 14 %"):
            ShopLimits(
                low_pct=Limit(value=Fraction(low)), high_pct=Limit(value=Fraction(high))
            )

    def test_every_usual_limit_says_where_it_comes_from(self):
        shop = ShopLimits()
        records = [shop, *shop.machines]
        limits = [
            value
            for record in records
            for value in vars(record).values()
            if isinstance(value, Limit)
        ]

        assert len(limits) == 16
        assert all(limit.source != Limit(value=Fraction(1)).source for limit in limits)
