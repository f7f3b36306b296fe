"""Invented pieces and random boxes to draw."""

from fractions import Fraction

from hypothesis import strategies as st

from projects.engine.drawing import Box, Dimension

INCH = Fraction(254, 10)


def inches(value):
    return Fraction(value) * INCH


def box(key, x, y, z, *, name=None):
    """Make a box from intervals in inches."""
    spans = {
        axis: (inches(low), inches(high))
        for axis, (low, high) in zip("xyz", (x, y, z), strict=True)
    }
    return Box(key=key, name=name or key.replace("_", " ").capitalize(), **spans)


def dimension(axis, low, high, text):
    return Dimension(axis=axis, low=inches(low), high=inches(high), text=text)


def bench():
    """A bench 36 wide, 14 deep, 18 high, of 3/4 boards housed 3/8 deep."""
    return [
        box("left_side", (0, "3/4"), (0, 14), (0, 18)),
        box("right_side", ("141/4", 36), (0, 14), (0, 18)),
        box("seat", ("3/8", "285/8"), (0, "27/2"), ("33/2", "69/4")),
        box("shelf", ("3/8", "285/8"), (0, "27/2"), (5, "23/4")),
        box("divider", ("141/8", "147/8"), ("1/2", "27/2"), ("43/8", "135/8")),
        box("back_rail", ("3/8", "285/8"), ("51/4", "27/2"), ("27/2", "33/2")),
        box("back", ("3/8", "285/8"), ("27/2", 14), (4, "69/4")),
    ]


BENCH_HOUSED = {
    ("seat", "left_side"),
    ("seat", "right_side"),
    ("shelf", "left_side"),
    ("shelf", "right_side"),
}


def bench_dimensions():
    return [
        dimension("x", 0, 36, "36"),
        dimension("x", 0, "3/4", "3/4 scant"),
        dimension("x", "3/4", "141/8", "16 7/8"),
        dimension("x", "147/8", "141/4", "16 7/8"),
        dimension("y", 0, 14, "14"),
        dimension("z", 0, 18, "18"),
        dimension("z", 0, 5, "5"),
        dimension("z", 5, "23/4", "3/4"),
        dimension("z", "23/4", "33/2", "10 3/4 full"),
    ]


def intervals(*, largest):
    whole = st.integers(0, largest)
    return (
        st.tuples(whole, whole)
        .filter(lambda ends: ends[0] != ends[1])
        .map(lambda ends: tuple(Fraction(end) for end in sorted(ends)))
    )


@st.composite
def boxes(draw, *, largest=8, most=7):
    """Draw a few boxes on a coarse grid, so that edges and faces often coincide."""
    number = draw(st.integers(1, most))
    span = intervals(largest=largest)
    return [
        Box(key=f"p{n}", name=name, x=draw(span), y=draw(span), z=draw(span))
        for n, name in enumerate(
            draw(st.lists(NAMES, min_size=number, max_size=number))
        )
    ]


NAMES = st.sampled_from(["", "Leg", "Back rail", "Left side, lower half", "W" * 60])
