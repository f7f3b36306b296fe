"""Draw a piece made of axis-aligned boxes, and its parts, as working drawings.

A map; each module may import only those above it:

- ``records``     what goes in (`Box`, `Dimension`) and what comes out (`Drawing`,
  `Picture`)
- ``page``        text sizes, text areas, lines broken where they meet a text
- ``settle``      the scale at which everything fits the page
- ``captions``    the caption and the key below a drawing
- ``project``     boxes seen from the front, the right side or the top
- ``hidden``      which stretches of the outlines are seen, which are hidden
- ``sizes``       dimension lines in lanes below and to the left of the piece
- ``leaders``     names led out: a row above the piece, a list to its right
- ``names``       part names, inside the parts where there is room
- ``describe``    the drawing in words
- ``layout``      all of it on one page that fits
- ``compose``     `elevation`: the checks, and the steps above in order
- ``isometric``   boxes seen from the front, the right and above; hidden lines
- ``labels``      part names in that view
- ``axes``        overall sizes along its edges
- ``pictorial``   `pictorial`: the whole piece in one picture
- ``worked``      what is cut on the faces of a part (`PartSheet` and down)
- ``worked_words``  the same in words: `part_words`
- ``turned``      a face as it lies on the page, which edges of its cuts show
- ``block``       a piece of a page, moved or turned as a whole
- ``face_view``   one face with its cuts, sizes, end names and letters
- ``part_page``   `part_drawing`: all faces of a part, or of a mirrored pair
- ``laid_part``   a part as it lies at a machine
- ``setting_view``  what is set there, with the sizes to set; asked for by `setups`
- ``writer``      `svg`: the page as text
- ``dxf``         `dxf`: a part in real units; imported by those who need it alone,
  as what it stands on takes long to load

All geometry is exact (`Fraction` millimetres) until it is written. Only where
texts go is reckoned in floats.
"""

from projects.engine.drawing.compose import elevation, overall_dimensions
from projects.engine.drawing.part_page import part_drawing
from projects.engine.drawing.pictorial import pictorial
from projects.engine.drawing.records import (
    Box,
    Dimension,
    Drawing,
    DrawingError,
    Picture,
    View,
)
from projects.engine.drawing.worked_words import part_words
from projects.engine.drawing.writer import svg

__all__ = [
    "Box",
    "Dimension",
    "Drawing",
    "DrawingError",
    "Picture",
    "View",
    "elevation",
    "overall_dimensions",
    "part_drawing",
    "part_words",
    "pictorial",
    "svg",
]
