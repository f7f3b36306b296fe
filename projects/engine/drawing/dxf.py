"""Write what is cut on a part as a DXF file, in real units.

One file a part or pair. Every face lies as `part_drawing` shows it, one above the
other, each with its lower left corner on a round place. Layers: OUTLINE the faces,
SLOT what is cut into them, HIDDEN areas whose place the plan leaves open and the
mirror of a pair, DIMENSION and TEXT. Outlines and cuts are closed polylines.

The file depends on nothing but the part: no time, no name of a machine, no new
identifiers, so that the same part always makes the same file.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from io import StringIO
from typing import Literal

from ezdxf._options import options
from ezdxf.document import Drawing as Document
from ezdxf.entities.text import Text
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new

from projects.engine.drawing.page import clean, wrap
from projects.engine.drawing.records import Dimension
from projects.engine.drawing.turned import Turned
from projects.engine.drawing.worked import PartSheet, Show, SlotMark
from projects.engine.drawing.worked_words import face_title, lettered, part_words

# Header variable $INSUNITS: 1 inches, 4 millimetres; $MEASUREMENT: 0 English, 1
# metric. Source: the DXF reference's header section, from memory.
UNITS = {"in": (1, 0), "mm": (4, 1)}
MM_PER = {"in": Fraction(254, 10), "mm": Fraction(1)}
# Decimals of a dimension, zeros at the end left off.
PLACES = {"in": 4, "mm": 2}
LAYERS = {"OUTLINE": 50, "SLOT": 50, "HIDDEN": 25, "DIMENSION": 18, "TEXT": 18}
"""Line weights of the layers, in hundredths of a mm."""
DASHED = "SHOP_DASHED"
CHAINED = "SHOP_CHAINED"
STYLE = "SHOP"
# Text height over the longest side, and the rest in text heights.
TEXT_SHARE = Fraction(1, 60)
FIRST_LANE = 5
LANE = 3
FACE_GAP = 4
ROW = 2
WORDS_WIDTH = 60

Point = tuple[float, float]

# Leaves the time of writing and fresh identifiers out of every file.
options.write_fixed_meta_data_for_testing = True


def dxf(sheet: PartSheet, *, show: Show, units: Literal["in", "mm"]) -> str:
    """Write a part, or a mirrored pair, as the text of a DXF file (R2010).

    Parameters
    ----------
    sheet
        The part or the pair [mm].
    show
        Words a length [mm], for the texts; dimensions measure the drawing.
    units
        What one unit of the file is.
    """
    document = _document(units, sheet)
    writer = _Writer(document, sheet, units)
    writer.faces(show)
    writer.words(show)
    text = StringIO()
    document.write(text)
    return text.getvalue()


def _document(units: Literal["in", "mm"], sheet: PartSheet) -> Document:
    document = new("R2010", units=UNITS[units][0])
    document.header["$MEASUREMENT"] = UNITS[units][1]
    text = float(_text_height(sheet) / MM_PER[units])
    for name, pattern in ((DASHED, (12, -3)), (CHAINED, (24, -3, 0.5, -3))):
        lengths = [length * text / 8 for length in pattern]
        total = sum(abs(length) for length in lengths)
        document.linetypes.add(name, [total, *lengths])
    for name, weight in LAYERS.items():
        layer = document.layers.add(name)
        layer.dxf.lineweight = weight
    document.layers.get("HIDDEN").dxf.linetype = DASHED
    style = document.dimstyles.new(STYLE)
    for attribute, value in {
        "dimtxt": text,
        "dimtsz": text / 2,  # oblique strokes, not arrows
        "dimexo": text / 2,
        "dimexe": text / 2,
        "dimgap": text / 3,
        "dimtad": 1,  # text above the line
        "dimdec": PLACES[units],
        "dimzin": 8,  # no zeros at the end
        "dimdsep": ord("."),
        "dimlunit": 2,
    }.items():
        style.set_dxf_attrib(attribute, value)
    return document


def _text_height(sheet: PartSheet) -> Fraction:
    """Return the text height [mm]."""
    sizes = (max(face.width_mm, face.height_mm) for r in sheet.rows for face in r)
    return max(sizes) * TEXT_SHARE


class _Writer:
    """Puts the faces, one below the other, and the words into a document."""

    def __init__(self, document: Document, sheet: PartSheet, units: str) -> None:
        self.space = document.modelspace()
        self.sheet = sheet
        self.per_unit = MM_PER[units]
        self.text = _text_height(sheet)
        self.below = Fraction(0)

    def faces(self, show: Show) -> None:
        rows = lettered(self.sheet, show=show)
        for faces, marks in zip(self.sheet.rows, rows, strict=True):
            for number, face in enumerate(faces):
                if number:
                    self._mirror(face.width_mm)
                name = self.sheet.parts[number].name
                self._text(f"{name}: {face_title(face)}", Fraction(0), self.below)
                turned = Turned(face=face, show=show)
                self._face(turned, [mark.letter for mark in marks])

    def words(self, show: Show) -> None:
        words = part_words(self.sheet, show=show)
        lines = [words.title]
        lines += [f"{line.letter}  {line.words}".strip() for line in words.lines]
        for line in lines:
            for part in wrap(line, width=WORDS_WIDTH):
                self._text(part, Fraction(0), self.below)
                self.below -= ROW * self.text

    def _face(self, turned: Turned, letters: Sequence[str]) -> None:
        face = turned.face
        dimensions = _once(turned.dimensions)
        level = [d for d in dimensions if d.axis == "x"]
        base = self.below - 2 * ROW * self.text - face.height_mm
        corners = [(turned.u((u, u))[0], turned.v((v, v))[0]) for u, v in face.outline]
        self._closed(corners, base, "OUTLINE")
        for mark, letter in zip(face.marks, letters, strict=True):
            self._mark(turned, mark, letter, base)
        self._ends(turned, base)
        for number, size in enumerate(level):
            lane = base - (FIRST_LANE + number * LANE) * self.text
            self._dimension((size.low, base), (size.high, base), lane, angle=0)
        upright = [d for d in dimensions if d.axis == "y"]
        for number, size in enumerate(upright):
            lane = -(FIRST_LANE + number * LANE) * self.text
            ends = ((Fraction(0), base + size.low), (Fraction(0), base + size.high))
            self._dimension(*ends, lane, angle=90)
        self.below = base - (FIRST_LANE + len(level) * LANE + FACE_GAP) * self.text

    def _mark(
        self, turned: Turned, mark: SlotMark, letter: str, base: Fraction
    ) -> None:
        (u1, u2), (v1, v2) = turned.u(mark.u), turned.v(mark.v)
        corners = [(u1, v1), (u2, v1), (u2, v2), (u1, v2)]
        layer = {"slot": "SLOT", "tenon": "SLOT"}.get(mark.kind, "HIDDEN")
        self._closed(corners, base, layer)
        middle = ((u1 + u2) / 2, base + (v1 + v2) / 2)
        self._centred(letter, *middle)

    def _ends(self, turned: Turned, base: Fraction) -> None:
        """Name the four ends beside the face."""
        gap = self.text
        left, right, low, high = turned.ends
        u, v = turned.face.width_mm, turned.face.height_mm
        self._centred(left, -gap, base + v / 2, turn=90)
        self._centred(right, u + gap, base + v / 2, turn=90)
        self._centred(low, u / 2, base - gap)
        self._centred(high, u / 2, base + v + gap)

    def _mirror(self, width: Fraction) -> None:
        level = self.below + self.text
        self.space.add_line(
            self._point(Fraction(0), level),
            self._point(width, level),
            dxfattribs={"layer": "HIDDEN", "linetype": CHAINED},
        )
        self._text("mirror", width + 2 * self.text, level)
        self.below -= ROW * self.text

    def _point(self, u: Fraction, v: Fraction) -> Point:
        return float(u / self.per_unit), float(v / self.per_unit)

    def _closed(
        self, corners: Iterable[tuple[Fraction, Fraction]], base: Fraction, layer: str
    ) -> None:
        points = [self._point(u, base + v) for u, v in corners]
        self.space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})

    def _dimension(
        self,
        start: tuple[Fraction, Fraction],
        end: tuple[Fraction, Fraction],
        lane: Fraction,
        *,
        angle: float,
    ) -> None:
        at = (Fraction(0), lane) if angle == 0 else (lane, Fraction(0))
        dimension = self.space.add_linear_dim(
            base=self._point(*at),
            p1=self._point(*start),
            p2=self._point(*end),
            angle=angle,
            dimstyle=STYLE,
            dxfattribs={"layer": "DIMENSION"},
        )
        dimension.render()

    def _text(self, words: str, u: Fraction, v: Fraction) -> None:
        text = self._new_text(words)
        text.set_placement(self._point(u, v), align=TextEntityAlignment.BOTTOM_LEFT)

    def _centred(self, words: str, u: Fraction, v: Fraction, turn: float = 0) -> None:
        text = self._new_text(words)
        text.dxf.rotation = turn
        text.set_placement(self._point(u, v), align=TextEntityAlignment.MIDDLE_CENTER)

    def _new_text(self, words: str) -> Text:
        return self.space.add_text(
            _plain(words),
            height=float(self.text / self.per_unit),
            dxfattribs={"layer": "TEXT"},
        )


def _once(dimensions: Sequence[Dimension]) -> list[Dimension]:
    """Return each dimension once, the shortest first."""
    once = {(d.axis, d.low, d.high): d for d in dimensions}
    return sorted(once.values(), key=lambda d: (d.high - d.low, d.low))


def _plain(words: str) -> str:
    """Return words as a DXF text shows them: %% and ^ begin codes there."""
    return clean(words).replace("^", "^ ").replace("%%", "%%%%%%")
