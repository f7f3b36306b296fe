"""Round-overs and the flat that the guide bearing runs on, by hand."""

from fractions import Fraction

import pytest

from projects.engine.checks import Limit, ShopLimits
from projects.engine.errors import EngineError
from tests.engine.builds import IN, part, size
from tests.engine.checks.pieces import amounts, found, made


def board(radius, **more):
    """Return one board of 3/4 in, rounded over on both faces."""
    return made(
        [part("board", "xyz") | ({"round_over": radius} if radius else {})],
        distances=[
            size("board", "length", "xyz", "30"),
            size("board", "width", "xyz", "8"),
        ],
        **more,
    )


def test_none_is_none():
    assert not found(board(None), "bearing_flat")


def test_an_eighth_is_enough():
    """3/4 − 2 × 5/16 = 1/8 in."""
    assert not found(board("5/16"), "bearing_flat")


def test_less_is_told():
    """3/4 − 2 × 11/32 = 1/16 in."""
    (one,) = found(board("11/32"), "bearing_flat")

    assert one.key == "bearing_flat/part:board"
    assert amounts(one)["flat left"] == Fraction(1, 16)
    assert "keeps 1/16 in of flat" in str(one.what)


def test_a_full_bullnose_keeps_nothing():
    """3/4 − 2 × 3/8 = 0."""
    (one,) = found(board("3/8"), "bearing_flat")

    assert "keeps nothing of flat" in str(one.what)


def test_the_shop_may_ask_for_more():
    shop = ShopLimits(bearing_mm=Limit(value=IN / 4))

    assert found(board("5/16"), "bearing_flat", shop=shop)


def test_a_bad_radius_is_told_by_its_place():
    with pytest.raises(EngineError, match=r"^parts\[0\]\.round_over"):
        board("round")
