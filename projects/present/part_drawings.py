"""Part drawings of a solved piece: each part, or a mirrored pair together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from projects.engine.drawing import part_drawing, part_words, svg
from projects.engine.drawing.worked import PartSheet
from projects.engine.fit.solve import Solution
from projects.engine.partwork import part_sheets
from projects.present.drawings import FONT, length_text
from projects.showing import Showing

Show = Callable[[Fraction], str]
Height = Callable[[Sequence[str]], float]
"""How high a drawing may stand on paper [mm], by the lines of words below it."""
MOST_MM = 230.0


@dataclass(frozen=True, kw_only=True)
class PartPicture:
    """One drawing with its words; `key` is that of its first part."""

    key: str
    title: str
    lines: tuple[str, ...]
    svg: str


def part_pictures(
    solution: Solution,
    showing: Showing,
    *,
    width_mm: float,
    height_of: Height = lambda _lines: MOST_MM,
) -> tuple[PartPicture, ...]:
    """Return a drawing of every part, at most so wide and so high on paper [mm]."""
    show = partial(length_text, showing=showing)
    return tuple(
        _picture(sheet, show, width_mm, height_of) for sheet in part_sheets(solution)
    )


def _picture(
    sheet: PartSheet, show: Show, width_mm: float, height_of: Height
) -> PartPicture:
    said = part_words(sheet, show=show)
    lines = tuple(
        f"{line.letter}: {line.words}" if line.letter else line.words
        for line in said.lines
    )
    height_mm = height_of(lines)
    return PartPicture(
        key=sheet.parts[0].key,
        title=said.title,
        lines=lines,
        svg=part_svg(sheet, show, width_mm=width_mm, height_mm=height_mm),
    )


def part_svg(
    sheet: PartSheet,
    show: Show,
    *,
    width_mm: float,
    height_mm: float = MOST_MM,
    words: bool = False,
) -> str:
    """Return the SVG of one sheet; its words stand beside it unless asked for."""
    drawn = part_drawing(
        sheet, show=show, width_mm=width_mm, height_mm=height_mm, words=words
    )
    return svg(drawn, font_family=FONT)


def sheet_of(solution: Solution, part: str) -> PartSheet | None:
    """Return the sheet that shows a part; None where there is no such part."""
    return next(
        (
            sheet
            for sheet in part_sheets(solution)
            if part in (work.key for work in sheet.parts)
        ),
        None,
    )
