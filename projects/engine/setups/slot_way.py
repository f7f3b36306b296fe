"""How a slot of one width is cut with what a shop has, and why not otherwise.

Source of the ways and of their order: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Literal

from projects.engine.errors import EngineError
from projects.engine.setups.dado_set import DadoSet, StackChoice, stack_for
from projects.engine.setups.words import Words

DEEP_SHARE = Fraction(1, 2)
"""How deep a bit goes in one pass at most, as a share of its diameter [-].

Source: common practice, no source.
"""
AT_SAW = ("table_saw",)
AT_ROUTER = ("router", "router_table")
WayKind = Literal["stack", "bit", "bit_passes", "blade_passes", "chisel"]
_IN_PASSES: dict[WayKind, str] = {
    "blade_passes": "The blade cuts {tool}: passes side by side: {passes}.",
    "bit_passes": "Bit of {tool}: passes side by side: {passes}; levels: {levels}.",
}
By = Literal["fence", "stop", "mark"]
_LAST: dict[By, str] = {
    "fence": "Fence {first} for the first pass, {last} for the last.",
    "stop": "Stop {first} for the first pass, {last} for the last.",
    "mark": "The first pass begins {first} from where the cut is measured, the last "
    "{last} from there.",
}


@dataclass(frozen=True, kw_only=True)
class Bits:
    """Hold the diameters [mm] of the bits a shop has."""

    diameters_mm: tuple[Fraction, ...]

    def __post_init__(self) -> None:
        if any(mm <= 0 for mm in self.diameters_mm):
            raise EngineError("a bit's diameter must be above 0")


@dataclass(frozen=True, kw_only=True)
class Place:
    """Say by what a cut is placed, and how far that is from the tool's side [mm].

    `stop_mm` is None where the place is marked from the parts.
    """

    by: By = "mark"
    stop_mm: Fraction | None = None


MARKED = Place()


@dataclass(frozen=True, kw_only=True)
class Way:
    """Hold one way to cut a slot, and why it serves or doesn't.

    `width_mm` is how wide the slot gets, None where it doesn't serve. `move_mm` is
    how much farther fence or stop stands for the last pass than for the first;
    `passes` how many there are side by side, `levels` how many one below the other.
    """

    kind: WayKind
    words: tuple[Words, ...]
    width_mm: Fraction | None = None
    stack: StackChoice | None = None
    tool_mm: Fraction | None = None
    move_mm: Fraction = Fraction(0)
    passes: int = 1
    levels: int = 1

    @property
    def serves(self) -> bool:
        """Whether the slot can be cut this way."""
        return self.width_mm is not None


@dataclass(frozen=True, kw_only=True)
class SlotWay:
    """Hold the way to cut a slot, None where no way serves, and the other ways."""

    way: Way | None
    others: tuple[Way, ...]


def slot_way(
    *,
    machine: str,
    width_mm: Fraction,
    depth_mm: Fraction,
    under_mm: Fraction,
    over_mm: Fraction,
    dado: DadoSet | None = None,
    bits: Bits | None = None,
    kerf_mm: Fraction | None = None,
    place: Place = MARKED,
) -> SlotWay:
    """Return how to cut a slot at a machine with what the shop has.

    Parameters
    ----------
    machine
        The key of the machine kind; at others than saw table and router none serves.
    width_mm
        How wide the slot is wanted [mm].
    depth_mm
        How deep it is [mm].
    under_mm
        How much narrower it may get [mm].
    over_mm
        How much wider it may get [mm].
    dado
        The shop's dado set, None without one.
    bits
        The shop's bits, None without any.
    kerf_mm
        How wide the saw's blade cuts [mm], None where nobody measured it.
    place
        By what it is placed, `stop_mm` from the near side of the tool.

    The first way that serves is the one: at the saw the stack, then passes with the
    blade; at the router a bit of that size, then passes with a smaller one.
    """
    ask = _Ask(
        width_mm=width_mm,
        depth_mm=depth_mm,
        under_mm=under_mm,
        over_mm=over_mm,
        place=place,
    )
    ways: list[Way] = []
    if machine in AT_SAW:
        ways = [_stack(ask, dado), _blade(ask, kerf_mm)]
    elif machine in AT_ROUTER:
        ways = list(_bits(ask, bits.diameters_mm if bits else ()))
    best = next((way for way in ways if way.serves), None)
    return SlotWay(way=best, others=tuple(way for way in ways if way is not best))


@dataclass(frozen=True, kw_only=True)
class _Ask:
    """Hold the slot that is wanted."""

    width_mm: Fraction
    depth_mm: Fraction
    under_mm: Fraction
    over_mm: Fraction
    place: Place

    def takes(self, wide_mm: Fraction) -> bool:
        """Tell whether a slot `wide_mm` [mm] wide is near enough."""
        return -self.under_mm <= wide_mm - self.width_mm <= self.over_mm


def _stack(ask: _Ask, dado: DadoSet | None) -> Way:
    if dado is None:
        return Way(kind="stack", words=(Words(template="The shop has no dado set."),))
    choice = stack_for(
        dado, width_mm=ask.width_mm, under_mm=ask.under_mm, over_mm=ask.over_mm
    )
    if choice.stack is None:
        words = [Words(template="The dado set doesn't stack to {width}.",
                       lengths_mm={"width": ask.width_mm})]  # fmt: skip
        for template, near in (
            ("The next narrower stack is {width}.", choice.below),
            ("The next wider stack is {width}.", choice.above),
        ):
            if near:
                lengths = {"width": near.width_mm}
                words.append(Words(template=template, lengths_mm=lengths))
        return Way(kind="stack", words=tuple(words), stack=choice)
    names = {"chippers": str(len(choice.stack.chippers_mm)),
             "shims": str(len(choice.stack.shims_mm))}  # fmt: skip
    return Way(
        kind="stack",
        words=(
            Words(
                template="Stack both outer blades, chippers: {chippers}, shims: "
                "{shims}; it cuts {width} in one pass. Try it on scrap.",
                lengths_mm={"width": choice.stack.width_mm},
                names=names,
            ),
        ),
        width_mm=choice.stack.width_mm,
        stack=choice,
    )


def _blade(ask: _Ask, kerf_mm: Fraction | None) -> Way:
    if kerf_mm is None:
        words = Words(template="Nobody wrote down how wide the blade cuts.")
        return Way(kind="blade_passes", words=(words,))
    if kerf_mm > ask.width_mm + ask.over_mm:
        words = Words(
            template="The blade cuts {kerf}, wider than the slot.",
            lengths_mm={"kerf": kerf_mm},
        )
        return Way(kind="blade_passes", words=(words,), tool_mm=kerf_mm)
    return _in_passes(ask, "blade_passes", kerf_mm, levels=1)


def _bits(ask: _Ask, diameters_mm: tuple[Fraction, ...]) -> Iterator[Way]:
    fit = [mm for mm in diameters_mm if ask.takes(mm)]
    if fit:
        best_mm = min(fit, key=lambda mm: (abs(mm - ask.width_mm), -mm))
        words = Words(
            template="Bit of {bit}: the slot in one row of passes, levels: {levels}.",
            lengths_mm={"bit": best_mm},
            names={"levels": str(levels(ask.depth_mm, best_mm))},
        )
        yield Way(kind="bit", words=(words,), width_mm=best_mm, tool_mm=best_mm,
                  levels=levels(ask.depth_mm, best_mm))  # fmt: skip
    else:
        words = Words(
            template="The shop has no bit of {width}.",
            lengths_mm={"width": ask.width_mm},
        )
        yield Way(kind="bit", words=(words,))
    smaller = [mm for mm in diameters_mm if mm < ask.width_mm]
    if smaller:
        bit_mm = max(smaller)
        yield _in_passes(ask, "bit_passes", bit_mm, levels=levels(ask.depth_mm, bit_mm))
    else:
        words = Words(template="The shop has no bit smaller than the slot.")
        yield Way(kind="bit_passes", words=(words,))


def _in_passes(ask: _Ask, kind: WayKind, tool_mm: Fraction, *, levels: int) -> Way:
    """Return the way of passes side by side: exact, as the fence moves any distance."""
    move_mm = max(ask.width_mm - tool_mm, Fraction(0))
    passes = max(ceil(ask.width_mm / tool_mm), 1)
    words = [
        Words(
            template=_IN_PASSES[kind],
            lengths_mm={"tool": tool_mm},
            names={"passes": str(passes), "levels": str(levels)},
        )
    ]
    if move_mm:
        words.append(last_pass(ask.place, move_mm))
    return Way(
        kind=kind,
        words=tuple(words),
        width_mm=tool_mm + move_mm,
        tool_mm=tool_mm,
        move_mm=move_mm,
        passes=passes,
        levels=levels,
    )


def last_pass(place: Place, move_mm: Fraction) -> Words:
    """Return where fence or stop stands for the last pass, `move_mm` [mm] farther."""
    if place.stop_mm is None:
        return Words(
            template="The last pass lies {move} from the first, farther in from the "
            "end or edge that the marks are measured from.",
            lengths_mm={"move": move_mm},
        )
    return Words(
        template=_LAST[place.by],
        lengths_mm={"first": place.stop_mm, "last": place.stop_mm + move_mm},
    )


def levels(depth_mm: Fraction, bit_mm: Fraction) -> int:
    """Return how many levels a bit takes for a depth [mm]."""
    return max(ceil(depth_mm / (bit_mm * DEEP_SHARE)), 1)
