"""Pieces of a setting as parts that lie at a machine, ready to be drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.drawing.laid_part import LaidPart
from projects.engine.drawing.records import Dimension as Size
from projects.engine.drawing.records import Interval, Rectangle
from projects.engine.drawing.roomy import roomy
from projects.engine.fit.solve import Solution
from projects.engine.plan.records import FACES, Dimension, FaceName, Part
from projects.engine.setups.setting_laying import FROM_BELOW, lead
from projects.engine.setups.setting_records import Piece, Setting
from projects.engine.setups.setting_words import (
    TOOLS,
    by_marks,
    face_words,
)
from projects.engine.setups.setting_work import opposite
from projects.engine.setups.words import Words, row

ZERO = Fraction(0)
_FIRST = {
    "stop": "{face} first, stop right of the {tool}",
    "fence": "{face} first, fence right of the {tool}",
}
Show = Callable[[Fraction], str]
Say = Callable[[str], str]


@dataclass(frozen=True, kw_only=True)
class Scene:
    """Lay out the pieces of one setting for its drawing."""

    solution: Solution
    setting: Setting
    show: Show
    say: Say

    def laid(self, piece: Piece) -> LaidPart | None:
        """Return a piece as it lies; None where the plan doesn't fix its place."""
        part = self.solution.plan.part_by_key[piece.part]
        if self.setting.kind == "thickness":
            return self._board(piece, part)
        if self.setting.kind == "hole":
            return self._hole(piece, part)
        if self.setting.kind == "cheek":
            return roomy(self._standing(piece, part))
        if self.setting.kind in ("rip", "crosscut"):
            return self._cut_off(piece, part)
        return roomy(self._from_above(piece, part)) if piece.against else None

    def _mm(self, name: str) -> Fraction:
        found = (q.mm for q in self.setting.quantities if q.name == name)
        return next(found, None) or ZERO

    def _extent(self, part: Part, face: FaceName) -> Fraction:
        return self.solution.sizes[part.key, part.dimension_on(FACES[face][0])]

    def _title(self, part: Part, *more: Words) -> str:
        name = Words(template="{part}", names={"part": part.name})
        return row([name, *more]).text(show=self.show, say=self.say)

    def _face(self, template: str, piece: Piece, face: FaceName) -> Words:
        said = face_words(self.solution.plan, piece, face)
        return Words(template=template, phrases={"face": said})

    def _rest(self, piece: Piece, *faces: FaceName) -> str:
        """Return what is at the part's right: the stop or fence, and which end."""
        names = {"stop": "stop", "fence": "fence", "none": ""}
        if by_marks(self.setting):
            names = dict.fromkeys(names, "")
        name = names[self.setting.rest]
        if not faces:
            return self.say(name) if name else ""
        said = face_words(self.solution.plan, piece, faces[0])
        end = said.text(show=self.show, say=self.say)
        return f"{self.say(name)}: {end}" if name else end

    def _lead(self, piece: Piece, top: FaceName) -> str:
        """Return what is at the part's top; where it goes first, with which side."""
        said = Words(
            template=_FIRST[self.setting.rest] if piece.leads else "{face}",
            terms={"tool": TOOLS.get(self.setting.machine, "")},
            phrases={"face": face_words(self.solution.plan, piece, top)},
        )
        return said.text(show=self.show, say=self.say)

    def _size(self, axis: str, span: Interval, mm: Fraction) -> Iterator[Size]:
        if span[0] < span[1]:
            yield Size(
                axis="x" if axis == "x" else "y",
                low=span[0],
                high=span[1],
                text=self.show(mm),
            )

    def _cut_off(self, piece: Piece, part: Part) -> LaidPart:
        """Return a part cut to its width or length, seen from above."""
        stop = self._mm("stop")
        other: Dimension = "length" if self.setting.kind == "rip" else "width"
        along = self.solution.sizes[part.key, other]
        return LaidPart(
            key=part.key,
            title=self._title(part),
            across_mm=stop,
            along_mm=min(along, stop / 2),
            open_top=along > stop / 2,
            rest=self._rest(piece),
            has_rest=not by_marks(self.setting),
            standing=True,
            sizes=tuple(self._size("x", (ZERO, stop), stop)),
        )

    def _board(self, piece: Piece, part: Part) -> LaidPart:
        thick = self._mm("height")
        return LaidPart(
            key=part.key,
            title=self._title(part),
            across_mm=6 * thick,
            along_mm=thick,
            standing=True,
            sizes=tuple(self._size("y", (ZERO, thick), thick)),
        )

    def _hole(self, piece: Piece, part: Part) -> LaidPart:
        wide, deep = self._mm("width"), self._mm("height")
        face = piece.worked[0]
        along = max(self._extent(part, face), deep)
        whole = min(along, 3 * deep)
        span = (2 * wide, 3 * wide)
        return LaidPart(
            key=part.key,
            title=self._title(part, self._face("{face} up", piece, face)),
            across_mm=5 * wide,
            along_mm=whole,
            cut=Rectangle(u=span, v=(whole - deep, whole)),
            hidden=True,
            standing=True,
            sizes=(
                *self._size("x", span, wide),
                *self._size("y", (whole - deep, whole), deep),
            ),
        )

    def _standing(self, piece: Piece, part: Part) -> LaidPart:
        """Return a part that stands on its end, seen along the fence."""
        against = piece.against[0]
        across = self._extent(part, against)
        stop, high = self._mm("stop"), self._mm("height")
        cut = Rectangle(u=(ZERO, across - stop), v=(ZERO, high))
        down = [self._face("{face} down", piece, face) for face in piece.down]
        return LaidPart(
            key=part.key,
            title=self._title(part, *down),
            across_mm=across,
            along_mm=max(3 * high, across / 2),
            open_top=True,
            rest=self._rest(piece, against),
            has_rest=not by_marks(self.setting),
            cut=cut,
            standing=True,
            sizes=(
                *self._size("x", (across - stop, across), stop),
                *self._size("y", (ZERO, high), high),
            ),
        )

    def _from_above(self, piece: Piece, part: Part) -> LaidPart:
        """Return a part as it is seen from above, fed up the page."""
        against = piece.against[0]
        up = self._up(piece, part)
        top = lead(opposite(up), against)
        across, along = self._extent(part, against), self._extent(part, top)
        stop, wide = self._mm("stop"), self._mm("width")
        if self.setting.side == "far":
            span = (across - stop, across)
        else:
            span = (across - stop - wide, across - stop)
        run, sizes = self._run(piece, top, along)
        if self.setting.kind == "notch":
            deep = self._mm("height")
            run = (along - deep, along) if piece.worked[0] == top else (ZERO, deep)
            sizes = list(self._size("y", run, deep))
        below = self.setting.machine in FROM_BELOW
        face = self._face(
            *(
                ("{face} down", piece, opposite(up))
                if below
                else ("{face} up", piece, up)
            )
        )
        # of a part far wider than its cut only what lies near the stop is shown
        shown = min(across, max(4 * (stop + wide), along / 2))
        span = (span[0] - across + shown, span[1] - across + shown)
        span = (max(span[0], ZERO), min(span[1], shown))
        return LaidPart(
            key=part.key,
            title=self._title(part, face),
            across_mm=shown,
            along_mm=along,
            rest=self._rest(piece, against),
            has_rest=not by_marks(self.setting) and self.setting.rest != "none",
            lead=self._lead(piece, top),
            open_left=shown < across,
            cut=Rectangle(u=span, v=run),
            hidden=below,
            sizes=(
                *self._size("x", (shown - stop, shown), stop),
                *(self._size("x", span, wide) if wide else ()),
                *sizes,
            ),
        )

    def _up(self, piece: Piece, part: Part) -> FaceName:
        """Return the face that is seen from above."""
        if self.setting.kind == "notch" or not piece.worked:
            return part.faces_on(part.axes["thickness"])[1].name
        face = piece.worked[0]
        return opposite(face) if self.setting.machine in FROM_BELOW else face

    def _run(
        self, piece: Piece, top: FaceName, along: Fraction
    ) -> tuple[Interval, list[Size]]:
        """Return from where to where a cut runs up the page, and the sizes of that."""
        if piece.start_from:
            start, length = self._mm("start"), self._mm("length")
            run = (start, start + length)
            before = (ZERO, start)
            if piece.start_from == top:
                run = (along - start - length, along - start)
                before = (along - start, along)
            run = (max(run[0], ZERO), min(run[1], along))
            return run, [
                *self._size("y", run, length),
                *self._size("y", before, start),
            ]
        low, high = ZERO, along
        sizes: list[Size] = []
        for end in piece.ends:
            span = (along - end.mm, along) if end.edge == top else (ZERO, end.mm)
            if end.edge == top:
                high = along - end.mm
            else:
                low = end.mm
            if not end.at_least:
                sizes += self._size("y", span, end.mm)
        return (low, high), sizes
