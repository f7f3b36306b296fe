"""Draw a part for the bench: each worked face with its cuts, a pair as a pair."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.drawing.block import Block
from projects.engine.drawing.captions import CAPTION_GAP, LEGEND_ROW, from_left
from projects.engine.drawing.face_view import lay_face
from projects.engine.drawing.page import Sheet, clean, spare, text_width, wrap
from projects.engine.drawing.records import Area, Dimension, Picture, Stroke, Text
from projects.engine.drawing.settle import (
    around,
    check_above_zero,
    page_around,
    settle,
)
from projects.engine.drawing.turned import Turned
from projects.engine.drawing.worked import PartSheet, Show
from projects.engine.drawing.worked_words import (
    Lettered,
    PartWords,
    face_title,
    lettered,
    part_words,
)

# In text sizes.
ROW_GAP = 2.2
MIRROR_GAP = 1.1
TITLE_GAP = 1.1
WORDS_LEAST = 20
TEXT_CLEAR = 0.15
# Nothing is drawn larger than it is.
LIFE_SIZE = 1


@dataclass(frozen=True, kw_only=True)
class _Scene:
    """Keep all that is to be shown."""

    sheet: PartSheet
    faces: tuple[tuple[Turned, ...], ...]
    rows: tuple[tuple[Lettered, ...], ...]
    words: PartWords


@dataclass(frozen=True, kw_only=True)
class _Round:
    """Keep one round's result; see `settle.Laid`."""

    drawn: Block
    extent: Area
    top: float
    outside: frozenset[str] = frozenset()


def part_drawing(
    sheet: PartSheet,
    *,
    show: Show,
    width_mm: float = 180,
    height_mm: float = 230,
    text_mm: float = 4.3,
    words: bool = True,
) -> Picture:
    """Draw a part, or a mirrored pair, with all that is cut on each of its faces.

    Each face lies with its length across the page, as one sees it, to one scale.
    Places are measured from the ends named beside it. A pair is drawn face by face
    with the mirror between.

    Parameters
    ----------
    sheet
        The part or the pair [mm].
    show
        Words a length [mm], such as "35 1/4 full".
    width_mm
        How wide the drawing will be shown [mm].
    height_mm
        How tall it may become [mm], the words below it apart.
    text_mm
        Text size [mm] at that width.
    words
        Whether the words that go with it stand below: its name, its sizes and what
        each letter means. A page that sets `part_words` beside it leaves them out.

    Raises
    ------
    DrawingError
        If a width, height or text size is not above 0.
    """
    check_above_zero(width_mm=width_mm, height_mm=height_mm, text_mm=text_mm)
    paired = len(sheet.parts) > 1
    scene = _Scene(
        sheet=sheet,
        faces=tuple(
            tuple(
                Turned(face=face, show=show, upside_down=paired and not place)
                for place, face in enumerate(row)
            )
            for row in sheet.rows
        ),
        rows=lettered(sheet, show=show),
        words=part_words(sheet, show=show),
    )
    piece = Area(
        u1=0,
        v1=0,
        u2=float(max(face.width_mm for row in sheet.rows for face in row)),
        v2=float(sum(face.height_mm for row in sheet.rows for face in row)),
    )
    laid, page, unit = settle(
        piece,
        lambda page, _outside: _lay(scene, page),
        width_mm=width_mm,
        height_mm=height_mm,
        text_mm=text_mm,
        least_unit=LIFE_SIZE,
    )
    block = laid.drawn
    if words:
        # However many words stand below, the faces don't get smaller for them.
        below = _words(scene, laid.extent, width_mm * unit, page.text)
        block = block.plus(Block(texts=tuple(below)))
    clear = [text.area.grown(TEXT_CLEAR * page.text) for text in block.texts]
    return Picture(
        kind="part",
        caption=scene.words.title,
        description=_describe(scene),
        shapes=block.shapes,
        visible=block.visible,
        hidden=block.hidden,
        chained=tuple(p for line in block.chained for p in spare(line, clear)),
        thin=tuple(p for line in block.thin for p in spare(line, clear)),
        ticks=block.ticks,
        dots=block.dots,
        texts=block.texts,
        page=page_around(block.extent, sheet=page, width=width_mm * unit),
        text_size=page.text,
        unit=unit,
    )


def _lay(scene: _Scene, page: Sheet) -> _Round:
    """Stack the rows from the top of the piece down."""
    t = page.text
    drawn = Block()
    below = page.piece.v2
    for faces, marks in zip(scene.faces, scene.rows, strict=True):
        row = _row(scene, faces, [mark.letter for mark in marks], t)
        row = row.moved(below - row.extent.v2)
        drawn = drawn.plus(row)
        below = row.extent.v1 - ROW_GAP * t
    extent = around([drawn.extent, page.piece])
    return _Round(drawn=drawn, extent=extent, top=extent.v2)


def _row(
    scene: _Scene, faces: Sequence[Turned], letters: Sequence[str], t: float
) -> Block:
    """Lay out one face, or two with the mirror between them."""
    first, *rest = faces
    row = lay_face(first, letters=letters, dimensions=first.dimensions, text=t)
    names = [clean(part.name) or part.key for part in scene.sheet.parts]
    title = face_title(first.face)
    if rest:
        title = f"{names[0]}, {_lower(title)}"
    row = row.plus(_title(title, row, row.extent.v2 + TITLE_GAP * t, t))
    for name, other in zip(names[1:], rest, strict=True):
        sizes = other.dimensions
        if _along(sizes) == _along(first.dimensions):
            # The sizes along the length stand above both.
            sizes = tuple(size for size in sizes if size.axis != "x")
        lower = lay_face(other, letters=letters, dimensions=sizes, text=t)
        level = row.extent.v1 - MIRROR_GAP * t
        lower = lower.moved(level - MIRROR_GAP * t - lower.extent.v2)
        title = f"{name}, {_lower(face_title(other.face))}"
        row = row.plus(
            _mirror(level, max(float(one.face.width_mm) for one in faces), t),
            lower,
            _title(title, row, lower.extent.v1 - TITLE_GAP * t, t),
        )
    return row


def _along(sizes: Sequence[Dimension]) -> set[tuple[Fraction, Fraction, str]]:
    return {(size.low, size.high, size.text) for size in sizes if size.axis == "x"}


def _lower(title: str) -> str:
    return title[0].lower() + title[1:]


def _title(words: str, row: Block, v: float, t: float) -> Block:
    return Block(texts=(from_left("legend", words, row.extent.u1, v, t),))


def _mirror(level: float, width: float, t: float) -> Block:
    """Draw the line two parts of a pair mirror each other at."""
    line = Stroke(u1=-t, v1=level, u2=width + t, v2=level)
    words = from_left("end", "mirror", width + 1.6 * t, level, t)
    return Block(chained=(line,), texts=(words,))


def _words(scene: _Scene, extent: Area, width: float, t: float) -> Iterator[Text]:
    """Set the name of the part below the drawing, and the rest below that."""
    v = extent.v1 - CAPTION_GAP * t
    room = max(max(width, extent.u2 - extent.u1) / t - 1, WORDS_LEAST)
    for words in wrap(scene.words.title, width=room):
        yield from_left("caption", words, extent.u1, v, t)
        v -= LEGEND_ROW * t
    for line in scene.words.lines:
        mark = f"{line.letter}  " if line.letter else ""
        indent = text_width(mark)
        if mark:
            yield from_left("legend", line.letter, extent.u1, v, t)
        for words in wrap(line.words, width=room - indent):
            yield from_left("legend", words, extent.u1 + indent * t, v, t)
            v -= LEGEND_ROW * t


def _describe(scene: _Scene) -> str:
    faces = "; ".join(face_title(face) for row in scene.sheet.rows for face in row)
    said = [
        f"{line.letter}: {line.words}" if line.letter else line.words
        for line in scene.words.lines
    ]
    return " ".join(
        f"{sentence.rstrip('.')}." for sentence in (f"Shown: {faces}", *said)
    )
