"""Write a drawing as SVG that a page, a PDF and a file of its own can hold.

One user unit is 1 mm of the piece, u to the right and v turned downwards, so
every coordinate of an outline can be read off as a size. Presentation attributes
only: a page that forbids style attributes shows it the same, and so does a PDF
writer that applies no style sheet to it.

Line conventions (from memory): visible outlines continuous wide (ISO 128-2, type
01.2), hidden outlines dashed narrow (02.1, dashes of 12 and gaps of 3 line
widths), axes of symmetry long-dashed dotted narrow (04.1), dimension, extension
and leader lines continuous narrow (01.1), wide to narrow 2 : 1; ASME Y14.2 has
the same and the same ratio. Dimension lines end in oblique strokes, and leaders
end in a dot where they point at a face (ISO 129-1).
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from html import escape

from projects.engine.drawing.page import clean
from projects.engine.drawing.records import (
    Drawing,
    Face,
    Picture,
    Segment,
    Shape,
    Stroke,
    Text,
)

# Line widths on the page [mm].
WIDE_MM = 0.5
NARROW_MM = 0.25
DASH = 12
GAP = 3
LONG = 24
DOT = 0.5
DOT_MM = 0.6
# From the middle of a text's height down to its baseline, in text sizes.
BASELINE = 0.28


def svg(
    drawing: Drawing | Picture,
    *,
    ink: str = "currentColor",
    font_family: str = "sans-serif",
) -> str:
    """Write a drawing as an SVG element that fills the width it is given.

    Parameters
    ----------
    drawing
        What `elevation`, `pictorial` or `part_drawing` made.
    ink
        Colour of lines and texts; "currentColor" takes that of the page around it,
        and is black in a PDF.
    font_family
        Fonts, as in CSS. The SVG in a PDF does not inherit the document's.
    """
    page = drawing.page
    box = " ".join(
        _number(n) for n in (page.u1, -page.v2, page.u2 - page.u1, page.v2 - page.v1)
    )
    pieces = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img"'
        f' data-view="{_view(drawing)}" viewBox="{box}" width="100%">',
        f"<title>{_escaped(drawing.caption)}</title>",
        f"<desc>{_escaped(drawing.description)}</desc>",
        f'<g class="drawing-parts" fill="none" stroke="none">{_areas(drawing)}</g>',
        _lines(drawing, ink),
        _dots(drawing, ink),
        _texts(drawing, ink, font_family),
        "</svg>",
    ]
    return "".join(pieces)


def _number(value: Fraction | float) -> str:
    """Write a number with at most three decimals."""
    written = f"{float(value):.3f}".rstrip("0").rstrip(".")
    return "0" if written == "-0" else written


def _escaped(words: str) -> str:
    return escape(clean(words), quote=True)


def _view(drawing: Drawing | Picture) -> str:
    return drawing.view if isinstance(drawing, Drawing) else drawing.kind


def _areas(drawing: Drawing | Picture) -> str:
    if isinstance(drawing, Drawing):
        return "".join(_part(face) for face in drawing.faces)
    return "".join(_shape(shape) for shape in drawing.shapes)


def _shape(shape: Shape) -> str:
    corners = " ".join(f"{_number(u)},{_number(-v)}" for u, v in shape.corners)
    data = "".join(
        f' data-{name}="{_number(low)} {_number(high)}"'
        for name, (low, high) in shape.data
    )
    return (
        f'<polygon class="drawing-{shape.kind}" data-{shape.kind}="'
        f'{_escaped(shape.key)}"{data} points="{corners}">'
        f"<title>{_escaped(shape.name)}</title></polygon>"
    )


def _part(face: Face) -> str:
    x, y = _number(face.u[0]), _number(face.v[0])
    width, height = _number(face.u[1] - face.u[0]), _number(face.v[1] - face.v[0])
    return (
        f'<rect class="drawing-part" data-part="{_escaped(face.key)}"'
        f' data-x="{x}" data-y="{y}" data-width="{width}" data-height="{height}"'
        f' x="{x}" y="{_number(-face.v[1])}" width="{width}" height="{height}">'
        f"<title>{_escaped(face.name)}</title></rect>"
    )


def _lines(drawing: Drawing | Picture, ink: str) -> str:
    unit = drawing.unit
    narrow, wide = NARROW_MM * unit, WIDE_MM * unit
    if isinstance(drawing, Drawing):
        segments = drawing.sight.segments
        hidden = _outline(s for s in segments if s.hidden)
        visible, chained = _outline(s for s in segments if not s.hidden), ""
    else:
        hidden, visible = _strokes(drawing.hidden), _strokes(drawing.visible)
        chained = _strokes(drawing.chained)
    return "".join(
        _path(kind, moves, ink=ink, width=width, more=more)
        for kind, moves, width, more in (
            ("thin", _strokes(drawing.thin), narrow, ""),
            ("chained", chained, narrow, _dashes(narrow, LONG, GAP, DOT, GAP)),
            ("hidden", hidden, narrow, _dashes(narrow, DASH, GAP)),
            ("tick", _strokes(drawing.ticks), wide, ""),
            ("visible", visible, wide, ' stroke-linecap="square"'),
        )
    )


def _dashes(narrow: float, *lengths: float) -> str:
    written = " ".join(_number(length * narrow) for length in lengths)
    return f' stroke-dasharray="{written}"'


def _path(kind: str, moves: str, *, ink: str, width: float, more: str) -> str:
    if not moves:
        return ""
    return (
        f'<path class="drawing-{kind}" fill="none" stroke="{_escaped(ink)}"'
        f' stroke-width="{_number(width)}"{more} d="{moves}"/>'
    )


def _outline(segments: Iterable[Segment]) -> str:
    return "".join(
        f"M{_number(s.low)} {_number(-s.at)}H{_number(s.high)}"
        if s.along == "u"
        else f"M{_number(s.at)} {_number(-s.low)}V{_number(-s.high)}"
        for s in segments
    )


def _strokes(strokes: Iterable[Stroke]) -> str:
    return "".join(
        f"M{_number(s.u1)} {_number(-s.v1)}L{_number(s.u2)} {_number(-s.v2)}"
        for s in strokes
    )


def _dots(drawing: Drawing | Picture, ink: str) -> str:
    radius = _number(DOT_MM * drawing.unit)
    return "".join(
        f'<circle class="drawing-dot" fill="{_escaped(ink)}"'
        f' cx="{_number(u)}" cy="{_number(-v)}" r="{radius}"/>'
        for u, v in drawing.dots
    )


def _texts(drawing: Drawing | Picture, ink: str, font_family: str) -> str:
    size = drawing.text_size
    written = "".join(_text(text, size) for text in drawing.texts)
    return (
        f'<g class="drawing-texts" fill="{_escaped(ink)}" stroke="none"'
        f' font-size="{_number(size)}" font-family="{_escaped(font_family)}"'
        f' text-anchor="middle">{written}</g>'
    )


def _text(text: Text, size: float) -> str:
    area = text.area
    u = area.u1 if text.anchor == "start" else (area.u1 + area.u2) / 2
    v = (area.v1 + area.v2) / 2
    down = BASELINE * size
    if text.rotated:
        x, y = _number(u + down), _number(-v)
        place = f'x="{x}" y="{y}" transform="rotate(-90 {x} {y})"'
    else:
        place = f'x="{_number(u)}" y="{_number(-v + down)}"'
    start = ' text-anchor="start"' if text.anchor == "start" else ""
    return (
        f'<text class="drawing-{text.kind}" {place}{start}>'
        f"{_escaped(text.words)}</text>"
    )
