"""What each invented student has logged so far, oldest first.

Together they show every stage of a build, from nothing at all to a shelf that was
cut too short.
"""

from __future__ import annotations

from dataclasses import dataclass

from projects.engine.fit.advice import Target
from projects.engine.plan.readings import Instrument
from projects.engine.plan.records import Dimension

POPLAR = Target(kind="stock", key="poplar34")
PLYWOOD = Target(kind="stock", key="ply14")


@dataclass(frozen=True, kw_only=True)
class Entry:
    """Hold one reading as the student typed it; None sets the point aside."""

    target: Target
    point: int = 1
    typed: str | None
    instrument: Instrument = "caliper"
    keep: bool = False


Entries = tuple[Entry, ...]


def points(
    target: Target, *readings: str, instrument: Instrument = "caliper"
) -> Entries:
    """Return the points of one target, numbered from 1."""
    return tuple(
        Entry(target=target, point=n, typed=typed, instrument=instrument)
        for n, typed in enumerate(readings, start=1)
    )


def again(
    target: Target, point: int, typed: str | None, *, keep: bool = False
) -> Entry:
    """Return one more reading of a point."""
    return Entry(target=target, point=point, typed=typed, keep=keep)


def part(key: str) -> Target:
    """Return the thickness of one part."""
    return Target(kind="part", key=key)


def dry_fit(*typed: str) -> Entries:
    """Return the opening as the tape shows it at one end or both."""
    opening = Target(kind="distance", key="opening")
    return points(opening, *typed, instrument="tape")


def diagonals(first: str, second: str) -> Entries:
    """Return both diagonals of the dry assembly, by the tape."""
    opening = Target(kind="diagonal", key="opening")
    return points(opening, first, second, instrument="tape")


def cut(key: str, dimension: Dimension, typed: str, *, keep: bool = False) -> Entry:
    """Return the size of a part after cutting, by the tape."""
    target = Target(kind="cut", key=key, dimension=dimension)
    return Entry(target=target, typed=typed, instrument="tape", keep=keep)


STAGES: dict[str, Entries] = {
    # has not begun
    "tomas": (),
    # has measured the first of three points
    "adaeze": points(POPLAR, "0.748"),
    # owns no caliper: a tape, and one point still to go
    "leif": points(POPLAR, "3/4", "23/32", instrument="tape"),
    # has all stock, and cuts next
    "yuki": (
        *points(POPLAR, "0.742", "0.744", "0.741"),
        *points(PLYWOOD, "0.240", "0.238", "0.239"),
    ),
    # measures in millimetres
    "priya": (
        *points(POPLAR, "18.9 mm", "18.8 mm", "19 mm"),
        *points(PLYWOOD, "6.1 mm", "6 mm", "6.1 mm"),
    ),
    # one end of the board is fat; looked again and kept it
    "rosa": (
        *points(POPLAR, "0.746", "0.744"),
        again(POPLAR, 3, "0.781", keep=True),
    ),
    # misread the first point, saw it at the third, measured again
    "samir": (
        *points(POPLAR, "0.757", "0.738", "0.736"),
        again(POPLAR, 1, "0.737"),
        *points(PLYWOOD, "0.236", "0.238", "0.237"),
    ),
    # a fourth point hit the snipe at the board's end, and is set aside
    "ingrid": (
        *points(POPLAR, "0.745", "0.743", "0.746", "0.718"),
        again(POPLAR, 4, None),
        *points(PLYWOOD, "0.241", "0.240", "0.242"),
    ),
    # planed the shelf and the divider on another day, so they have their own
    "kofi": (
        *points(POPLAR, "0.751", "0.753", "0.750"),
        *points(PLYWOOD, "0.239", "0.240", "0.238"),
        *points(part("shelf"), "0.722", "0.724", "0.721"),
        *points(part("divider"), "0.729", "0.727"),
    ),
    # the dry assembly stands 1/32 in wide: the overall width gives, the rail is next
    "olena": (
        *points(POPLAR, "0.744", "0.747", "0.745"),
        *points(PLYWOOD, "0.237", "0.239", "0.238"),
        cut("left_side", "length", "18"),
        cut("right_side", "length", "18"),
        *dry_fit("34 17/32", "34 17/32"),
    ),
    # cut the shelf, measured the opening at both ends and its diagonals, cut the rail:
    # all within a mark
    "jonah": (
        *points(POPLAR, "0.742", "0.740", "0.744"),
        *points(PLYWOOD, "0.240", "0.242", "0.241"),
        cut("shelf", "length", "35 1/4"),
        *dry_fit("34 1/2", "34 1/2"),
        *diagonals("37 1/16", "37 1/32"),
        cut("back_rail", "length", "35 1/2"),
    ),
    # cut the shelf 1/8 in short, and the opening shows it
    "meilin": (
        *points(POPLAR, "0.748", "0.751", "0.749"),
        *points(PLYWOOD, "0.241", "0.239", "0.240"),
        cut("shelf", "length", "35 1/8", keep=True),
        *dry_fit("34 1/2", "34 1/2"),
    ),
}
