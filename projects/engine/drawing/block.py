"""Hold a part of a page that can be turned upside down and moved as a whole."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from projects.engine.drawing.records import Area, Point, Shape, Stroke, Text
from projects.engine.drawing.settle import areas_of, around


@dataclass(frozen=True, kw_only=True)
class Block:
    """Keep lines and texts [mm of the piece]; `extent` is the area they take."""

    shapes: tuple[Shape, ...] = ()
    visible: tuple[Stroke, ...] = ()
    hidden: tuple[Stroke, ...] = ()
    chained: tuple[Stroke, ...] = ()
    thin: tuple[Stroke, ...] = ()
    ticks: tuple[Stroke, ...] = ()
    dots: tuple[Point, ...] = ()
    texts: tuple[Text, ...] = ()

    @property
    def extent(self) -> Area:
        """The area that holds all of it."""
        lines = (*self.visible, *self.hidden, *self.chained, *self.thin, *self.ticks)
        return around([*areas_of(lines), *(text.area for text in self.texts)])

    def upside_down(self) -> Block:
        """Return the block mirrored at the level v = 0; its texts stay upright."""
        return self._placed(lambda v: -v)

    def moved(self, by: float) -> Block:
        """Return the block `by` [mm] further up."""
        return self._placed(lambda v: v + by)

    def plus(self, *others: Block) -> Block:
        """Return this block and the others as one."""
        every = (self, *others)
        return Block(
            shapes=tuple(shape for block in every for shape in block.shapes),
            visible=tuple(line for block in every for line in block.visible),
            hidden=tuple(line for block in every for line in block.hidden),
            chained=tuple(line for block in every for line in block.chained),
            thin=tuple(line for block in every for line in block.thin),
            ticks=tuple(line for block in every for line in block.ticks),
            dots=tuple(dot for block in every for dot in block.dots),
            texts=tuple(text for block in every for text in block.texts),
        )

    def _placed(self, place: Callable[[float], float]) -> Block:
        def lines(strokes: tuple[Stroke, ...]) -> tuple[Stroke, ...]:
            return tuple(
                replace(line, v1=place(line.v1), v2=place(line.v2)) for line in strokes
            )

        return Block(
            shapes=tuple(
                replace(shape, corners=tuple((u, place(v)) for u, v in shape.corners))
                for shape in self.shapes
            ),
            visible=lines(self.visible),
            hidden=lines(self.hidden),
            chained=lines(self.chained),
            thin=lines(self.thin),
            ticks=lines(self.ticks),
            dots=tuple((u, place(v)) for u, v in self.dots),
            texts=tuple(replace(t, area=_area(t.area, place)) for t in self.texts),
        )


def _area(area: Area, place: Callable[[float], float]) -> Area:
    low, high = sorted((place(area.v1), place(area.v2)))
    return Area(u1=area.u1, v1=low, u2=area.u2, v2=high)
