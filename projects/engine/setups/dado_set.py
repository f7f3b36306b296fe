"""The stack of a dado set for a slot width: fewest pieces, found exactly."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import floor, lcm

from projects.engine.errors import EngineError

SHIMS_TOGETHER = 2
"""How many shims may lie together between two blades of a stack [-].

Source: common practice, no source (manuals of dado sets say so).
"""
ZERO = Fraction(0)


@dataclass(frozen=True, kw_only=True)
class DadoSet:
    """Hold the pieces a shop owns: each thickness [mm] as often as there is one.

    `outer_mm` are the kerfs of the two outer blades; `widest_mm` is the widest stack
    the arbor takes, None where nobody wrote it down.
    """

    outer_mm: tuple[Fraction, ...]
    chippers_mm: tuple[Fraction, ...] = ()
    shims_mm: tuple[Fraction, ...] = ()
    widest_mm: Fraction | None = None

    def __post_init__(self) -> None:
        if len(self.outer_mm) != 2:
            raise EngineError(
                "a dado set has 2 outer blades (read: {count})",
                count=len(self.outer_mm),
            )
        if min(self.every_mm) <= 0:
            raise EngineError("every piece of a dado set must be above 0 thick")

    @property
    def every_mm(self) -> tuple[Fraction, ...]:
        """Every piece [mm]."""
        return (*self.outer_mm, *self.chippers_mm, *self.shims_mm)

    @property
    def least_mm(self) -> Fraction:
        """How wide the two outer blades cut alone [mm]."""
        return sum(self.outer_mm, ZERO)


@dataclass(frozen=True, kw_only=True)
class Stack:
    """Hold the pieces of one stack [mm], thickest first."""

    outer_mm: tuple[Fraction, ...]
    chippers_mm: tuple[Fraction, ...]
    shims_mm: tuple[Fraction, ...]

    @property
    def width_mm(self) -> Fraction:
        """How wide it cuts [mm]."""
        return sum((*self.outer_mm, *self.chippers_mm, *self.shims_mm), ZERO)

    @property
    def count(self) -> int:
        """How many pieces it has, the outer blades too."""
        return len(self.outer_mm) + len(self.chippers_mm) + len(self.shims_mm)

    @property
    def different(self) -> int:
        """How many different chippers and shims it has."""
        return len(set(self.chippers_mm)) + len(set(self.shims_mm))


@dataclass(frozen=True, kw_only=True)
class StackChoice:
    """Hold the stack for a width; where none is near enough, the nearest two."""

    wanted_mm: Fraction
    stack: Stack | None
    below: Stack | None = None
    above: Stack | None = None


@dataclass(frozen=True, kw_only=True)
class _Pick:
    """Hold some of the pieces: how many of each thickness, thickest first."""

    total: int
    taken: tuple[int, ...]

    @property
    def count(self) -> int:
        return sum(self.taken)

    @property
    def liked(self) -> tuple[int, tuple[int, ...]]:
        """What picks of one count and total are chosen by: few different, thick."""
        return sum(n > 0 for n in self.taken), tuple(-n for n in self.taken)


@dataclass(frozen=True, kw_only=True)
class _Found:
    """Hold a stack by its two picks; `off` is how much wider than wanted it is."""

    chippers: _Pick
    shims: _Pick
    off: int

    @property
    def count(self) -> int:
        return self.chippers.count + self.shims.count

    @property
    def last(self) -> tuple[object, ...]:
        """What decides between stacks with as many pieces and as near."""
        different = self.chippers.liked[0] + self.shims.liked[0]
        return different, self.off < 0, self.chippers.liked, self.shims.liked


def stack_for(
    dado: DadoSet, *, width_mm: Fraction, under_mm: Fraction, over_mm: Fraction
) -> StackChoice:
    """Return the stack for a slot of `width_mm`, at most so much under or over [mm].

    Exact: of all stacks near enough the one with the fewest pieces, then the nearest,
    then the one with the fewest different pieces, then the wider. Both outer blades
    are always in, and no more than two shims lie together.
    """
    scale = lcm(*(mm.denominator for mm in (*dado.every_mm, width_mm)))
    scale = lcm(scale, under_mm.denominator, over_mm.denominator)

    def whole(lengths_mm: Iterable[Fraction]) -> list[int]:
        """Return lengths [mm] in whole parts of the scale."""
        return [int(mm * scale) for mm in lengths_mm]

    [rest, under, over] = whole((width_mm - dado.least_mm, under_mm, over_mm))
    # a stack wider than this could leave a piece out and be nearer
    most = max(rest, 0) + max(over, *whole(dado.every_mm))
    if dado.widest_mm is not None:
        most = min(most, floor((dado.widest_mm - dado.least_mm) * scale))
    chippers, shims = Counter(whole(dado.chippers_mm)), Counter(whole(dado.shims_mm))
    every = list(_stacks(chippers, shims, rest, most)) if most >= 0 else []

    def made(found: _Found | None) -> Stack | None:
        if found is None:
            return None
        return Stack(
            outer_mm=tuple(sorted(dado.outer_mm, reverse=True)),
            chippers_mm=_pieces(chippers, found.chippers, scale),
            shims_mm=_pieces(shims, found.shims, scale),
        )

    def nearest(found: Iterable[_Found]) -> Stack | None:
        by = min(found, key=lambda f: (abs(f.off), f.count, f.last), default=None)
        return made(by)

    fit = [found for found in every if -under <= found.off <= over]
    if fit:
        best = min(fit, key=lambda f: (f.count, abs(f.off), f.last))
        return StackChoice(wanted_mm=width_mm, stack=made(best))
    return StackChoice(
        wanted_mm=width_mm,
        stack=None,
        below=nearest(found for found in every if found.off < 0),
        above=nearest(found for found in every if found.off > 0),
    )


def _pieces(owned: Counter[int], pick: _Pick, scale: int) -> tuple[Fraction, ...]:
    thickest_first = sorted(owned, reverse=True)
    return tuple(
        Fraction(thickness, scale)
        for thickness, n in zip(thickest_first, pick.taken, strict=True)
        for _ in range(n)
    )


def _stacks(
    chippers: Counter[int], shims: Counter[int], rest: int, most: int
) -> Iterator[_Found]:
    """Give for all chippers and each number of shims the stacks nearest to `rest`."""
    room = SHIMS_TOGETHER * (chippers.total() + 1)
    by_count: dict[int, list[_Pick]] = {}
    for pick in sorted(_picks(shims, room, most), key=_total):
        by_count.setdefault(pick.count, []).append(pick)
    for some in _picks(chippers, chippers.total(), most):
        for count, picks in by_count.items():
            if count > SHIMS_TOGETHER * (some.count + 1):
                continue
            end = bisect_right(picks, most - some.total, key=_total)
            at = bisect_left(picks, rest - some.total, hi=end, key=_total)
            for pick in picks[max(at - 1, 0) : min(at + 1, end)]:
                off = some.total + pick.total - rest
                yield _Found(chippers=some, shims=pick, off=off)


def _total(pick: _Pick) -> int:
    return pick.total


def _picks(owned: Counter[int], at_most: int, most: int) -> list[_Pick]:
    """Return for each number of pieces and each total one pick of the pieces owned.

    Of picks alike in both it is the one with the fewest different pieces.
    """
    found: dict[tuple[int, int], _Pick] = {(0, 0): _Pick(total=0, taken=())}
    for thickness in sorted(owned, reverse=True):
        longer: dict[tuple[int, int], _Pick] = {}
        for (count, total), pick in found.items():
            for n in range(min(owned[thickness], at_most - count) + 1):
                reached = total + n * thickness
                if reached > most:
                    break
                made = _Pick(total=reached, taken=(*pick.taken, n))
                before = longer.setdefault((count + n, reached), made)
                if made.liked < before.liked:
                    longer[count + n, reached] = made
        found = longer
    return list(found.values())
