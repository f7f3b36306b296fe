"""Draw a piece made of axis-aligned boxes, as a working drawing in SVG.

A map; each module may import only those above it:

- ``records``     what goes in (`Box`, `Dimension`) and what comes out (`Drawing`)
- ``page``        text sizes, text areas, lines broken where they meet a text
- ``project``     boxes seen from the front, the right side or the top
- ``hidden``      which stretches of the outlines are seen, which are hidden
- ``sizes``       dimension lines in lanes below and to the left of the piece
- ``leaders``     names led out: a row above the piece, a list to its right
- ``names``       part names, inside the parts where there is room
- ``describe``    the drawing in words
- ``layout``      all of it on one page that fits
- ``compose``     `elevation`: the checks, and the steps above in order
- ``writer``      `svg`: the page as text

All geometry is exact (`Fraction` millimetres) until it is written. Only where
texts go is reckoned in floats.
"""

from projects.engine.drawing.compose import elevation, overall_dimensions
from projects.engine.drawing.records import Box, Dimension, Drawing, DrawingError, View
from projects.engine.drawing.writer import svg

__all__ = [
    "Box",
    "Dimension",
    "Drawing",
    "DrawingError",
    "View",
    "elevation",
    "overall_dimensions",
    "svg",
]
