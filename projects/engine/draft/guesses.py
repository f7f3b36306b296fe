"""Boxes for every part: what is fixed exactly, the rest at a sensible guess."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from statistics import median_high

from projects.engine.draft.numeric import Positions
from projects.engine.draft.questions import AxisGroups
from projects.engine.draft.records import Drawn
from projects.engine.drawing import Box
from projects.engine.fit.equations import difference
from projects.engine.fit.system import SizeKey
from projects.engine.plan.records import (
    AXES,
    DIMENSIONS,
    Axis,
    Dimension,
    Face,
    Part,
    Plan,
)

GUESSED_MM: dict[Dimension, Fraction] = {
    "length": Fraction(600),
    "width": Fraction(200),
    "thickness": Fraction(19),
}
"""What a size is drawn at where no other part gives a hint [mm]."""

GAP_MM = Fraction(50)
"""How far apart parts stand that nothing ties together [mm]."""

ROOM_MM = Fraction(100)
"""From how far on the piece is taken to show how large it will be [mm]."""

Span = tuple[Fraction, Fraction]


def drawn(
    plan: Plan,
    positions: Positions,
    groups: Mapping[Axis, AxisGroups],
    sizes: Mapping[SizeKey, Fraction],
) -> tuple[Drawn, ...]:
    """Return a box for each part; `sizes` are the fixed ones [mm].

    `positions` is told every guess, so that the boxes still touch where they must.
    """
    spans = {axis: _Axis(plan, positions, groups[axis], sizes).spans() for axis in AXES}
    made = []
    for part in plan.parts:
        on = {axis: spans[axis][part.key] for axis in AXES}
        open_axes = [
            axis for axis in AXES if (part.key, part.dimension_on(axis)) not in sizes
        ]
        adrift = [axis for axis in AXES if not groups[axis].is_home(part)]
        made.append(
            Drawn(
                box=Box(key=part.key, name=part.name, **on),
                guessed_sizes=frozenset(open_axes),
                guessed_places=frozenset(adrift),
            )
        )
    return tuple(made)


class _Axis:
    """Find where each part lies on one axis."""

    def __init__(
        self,
        plan: Plan,
        positions: Positions,
        groups: AxisGroups,
        sizes: Mapping[SizeKey, Fraction],
    ) -> None:
        self.plan, self.positions, self.groups = plan, positions, groups
        self.axis = groups.axis
        self.sizes = sizes
        # the part the others are placed from: the first one of the piece itself
        self.first = next(part for part in plan.parts if groups.is_home(part))
        self.placed: dict[str, Span] = {}

    def spans(self) -> dict[str, Span]:
        """Return low and high end of each part [mm]."""
        self._guess_sizes()
        low = {part.key: part.faces_on(self.axis)[0] for part in self.plan.parts}
        number = self.positions.groups(list(low.values()))
        together: dict[int, list[Part]] = {}
        for part in self.plan.parts:
            together.setdefault(number[low[part.key]], []).append(part)
        home = together.pop(number[low[self.first.key]])
        self._place(home)
        rest = list(together.values())
        hosts = [self._hosts(parts) for parts in rest]
        for n, parts in enumerate(rest):
            anchor, face = low[self.first.key], low[parts[0].key]
            if self.positions.between(anchor, face) is None:
                alike = [k for k, other in enumerate(hosts) if other == hosts[n]]
                row = difference(anchor, face)
                share = Fraction(alike.index(n) + 1, len(alike) + 1)
                self.positions.add(row, self._spot(parts, hosts[n], share))
            self._place(parts)
        return self.placed

    def _guess_sizes(self) -> None:
        """Tell the positions a size for each part that has none."""
        usual = self._usual()
        for part in self.plan.parts:
            low, high = part.faces_on(self.axis)
            if self.positions.between(low, high) is None:
                mm = usual[part.dimension_on(self.axis)]
                self.positions.add(difference(low, high), mm)

    def _usual(self) -> dict[Dimension, Fraction]:
        """Return a size for each dimension [mm]: what other parts have on this axis."""
        known: dict[Dimension, list[Fraction]] = {name: [] for name in DIMENSIONS}
        for part in self.plan.parts:
            dimension = part.dimension_on(self.axis)
            mm = self.sizes.get((part.key, dimension))
            if mm is not None and mm > 0:
                known[dimension].append(mm)
        every = known["length"] + known["width"]
        return {
            name: median_high(known[name] or every) if known[name] or every else mm
            for name, mm in GUESSED_MM.items()
        }

    def _place(self, parts: Iterable[Part]) -> None:
        anchor = self.first.faces_on(self.axis)[0]
        for part in parts:
            low, high = part.faces_on(self.axis)
            at = self.positions.between(anchor, low) or Fraction(0)
            size = self.positions.between(low, high) or Fraction(0)
            if size <= 0:
                # it is told as a trouble; the drawing needs a box all the same
                size = GUESSED_MM["thickness"]
            self.placed[part.key] = (at, at + size)

    def _hosts(self, parts: list[Part]) -> tuple[str, ...]:
        """Return the parts of the piece that some parts are joined to elsewhere."""
        own = {part.key for part in parts}
        found = []
        for joint in self.plan.joints:
            ends = (joint.guest.part, joint.host.part)
            if joint.host.axis != self.axis and len(own & {*ends}) == 1:
                found.append(ends[1] if ends[0] in own else ends[0])
        return tuple(dict.fromkeys(key for key in found if key in self.placed))[:1]

    def _spot(
        self, parts: list[Part], hosts: tuple[str, ...], share: Fraction
    ) -> Fraction:
        """Return where the first of some parts starts [mm].

        Within what they are joined to, spread out with those joined there too; else
        beside the piece, or in front and on the floor.
        """
        face = parts[0].faces_on(self.axis)[0]
        ends = [self._ends_from(face, part) for part in parts]
        low, high = min(a for a, _ in ends), max(b for _, b in ends)
        for key in hosts:
            host_low, host_high = self.placed[key]
            free = host_high - host_low - (high - low)
            if free >= 0 and host_high - host_low >= ROOM_MM:
                return host_low + share * free - low
        if self.axis == "x":
            return max(end for _, end in self.placed.values()) + GAP_MM - low
        return min(start for start, _ in self.placed.values()) - low

    def _ends_from(self, face: Face, part: Part) -> Span:
        low, high = part.faces_on(self.axis)
        start = self.positions.between(face, low) or Fraction(0)
        size = self.positions.between(low, high) or Fraction(0)
        return start, start + size
