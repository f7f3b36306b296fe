"""Drawings of laid parts in which small distances have room."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from projects.engine.drawing.laid_part import LaidPart
from projects.engine.drawing.records import Dimension, Rectangle
from projects.engine.drawing.roomy import LEAST_SHARE, roomy

LENGTHS = st.fractions(min_value=Fraction(1, 8), max_value=900, max_denominator=64)


def groove(inset, wide, across, along):
    """Return a part with a groove along it, its two sizes drawn."""
    spans = ((Fraction(0), inset), (inset, inset + wide))
    return LaidPart(
        key="p",
        title="P",
        across_mm=inset + wide + across,
        along_mm=along,
        cut=Rectangle(u=spans[1], v=(Fraction(0), along)),
        sizes=tuple(
            Dimension(axis="x", low=low, high=high, text="1/4") for low, high in spans
        ),
    )


@given(LENGTHS, LENGTHS, LENGTHS, LENGTHS)
def test_each_distance_has_room_and_the_order_stays(inset, wide, rest, along):
    made = roomy(groove(inset, wide, rest, along))
    first, second = made.sizes
    longer = max(made.across_mm, made.along_mm)
    gaps = (first.high - first.low, second.high - second.low)

    assert first.low == 0
    assert first.high == second.low
    assert second.high < made.across_mm
    # one that is turned is drawn a little longer, so that it stays turned
    assert min(gaps) >= longer * LEAST_SHARE / 2
    assert made.cut is not None
    assert (made.cut.u, made.cut.v) == (
        (second.low, second.high), (Fraction(0), made.along_mm),
    )  # fmt: skip


def test_one_that_is_turned_stays_turned():
    part = groove(Fraction(6), Fraction(6), Fraction(7), Fraction(800))

    assert part.is_turned
    assert roomy(part).is_turned
