"""Lay out one worked face: its outline, cuts, sizes, end names and letters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from projects.engine.drawing.block import Block
from projects.engine.drawing.leaders import NAME_GAP, Led, lead_out, seen_spot
from projects.engine.drawing.names import place_inside
from projects.engine.drawing.page import (
    Sheet,
    area_of,
    centred,
    inside,
    text_width,
)
from projects.engine.drawing.records import (
    Area,
    Dimension,
    Face,
    Rectangle,
    Shape,
    Stroke,
    Text,
)
from projects.engine.drawing.settle import areas_of
from projects.engine.drawing.sizes import lay_sizes
from projects.engine.drawing.turned import ZERO, Turned
from projects.engine.drawing.worked import Show, SlotMark

# In text sizes.
END_GAP = 0.9
END_ROOM = 1.5
# Where along an edge its name may stand, as shares of it, best first.
END_PLACES = (0.5, 0.35, 0.65, 0.2, 0.8)
# So far to the right that the way out is up.
NO_END = 1e6


def lay_face(
    turned: Turned,
    *,
    letters: Sequence[str],
    dimensions: Sequence[Dimension],
    text: float,
) -> Block:
    """Lay out a face with its lower left corner at 0.

    Sizes stand below and to the left, letters above, all the other way up where it
    is turned `upside_down`. `text` is the text size [mm of the piece].
    """
    face = turned.face
    outline = Area(u1=0, v1=0, u2=float(face.width_mm), v2=float(face.height_mm))
    sheet = Sheet(piece=outline, text=text)
    rectangles = [turned.rectangle(mark) for mark in face.marks]
    labels = _labels(face.marks, letters, turned.show, room=outline.u2 / text)
    named, leaders, dots = _name(turned, labels, sheet)
    whole = Rectangle(u=(ZERO, face.width_mm), v=(ZERO, face.height_mm))
    sizes = lay_sizes(
        dimensions,
        faces=[_as_face(rectangle) for rectangle in (whole, *rectangles)],
        axes=("x", "y"),
        sheet=_with_end_names(sheet),
    )
    ends = tuple(_end_names(turned, [*leaders, *sizes.thin], sheet))
    block = Block(
        shapes=tuple(map(_shape, face.marks, rectangles)),
        visible=(*turned.outline, *turned.edges),
        hidden=tuple(
            line
            for mark, rectangle in zip(face.marks, rectangles, strict=True)
            if mark.kind == "holes"
            for line in _sides(rectangle)
        ),
        thin=(*sizes.thin, *leaders),
        ticks=sizes.ticks,
        dots=dots,
        texts=(*ends, *named, *sizes.texts),
    )
    if not turned.upside_down:
        return block
    return block.upside_down().moved(outline.v2)


def _labels(
    marks: Sequence[SlotMark], letters: Sequence[str], show: Show, *, room: float
) -> list[str]:
    """Return letters with the depth behind them, if all of that has room."""
    long = [
        f"{letter}, {show(mark.depth_mm)} deep"
        if mark.depth_mm and not mark.through
        else letter
        for mark, letter in zip(marks, letters, strict=True)
    ]
    fits = sum(text_width(label) + NAME_GAP for label in long) <= room
    return long if fits else list(letters)


def _name(
    turned: Turned, labels: Sequence[str], sheet: Sheet
) -> tuple[tuple[Text, ...], tuple[Stroke, ...], tuple[tuple[float, float], ...]]:
    """Put each label in its cut where there is room, else in a row above."""
    seen_of = turned.sight.seen
    lines = areas_of((*turned.outline, *turned.edges))
    piece = sheet.piece
    endless = Area(u1=piece.u1, v1=piece.v1, u2=piece.u2 + NO_END, v2=piece.v2)
    upward = Sheet(piece=endless, text=sheet.text)
    texts: list[Text] = []
    led: list[Led] = []
    for number, (label, mark) in enumerate(zip(labels, turned.face.marks, strict=True)):
        seen = [area_of(r) for r in seen_of[str(number)]]
        areas = seen or [area_of(turned.rectangle(mark))]
        taken = [text.area for text in texts]
        place = place_inside(label, areas, lines, taken, sheet)
        # A lone letter lying on its side would be misread.
        if place and (len(label) > 1 or not place.rotated):
            texts.append(place)
        else:
            led.append(seen_spot(label, areas, lines=lines, sheet=upward))
    led_texts, leaders = lead_out(led, sheet=sheet, all_above=True)
    return (*texts, *led_texts), leaders, tuple((spot.u, spot.v) for spot in led)


def _sides(rectangle: Rectangle) -> Iterator[Stroke]:
    area = area_of(rectangle)
    for v in (area.v1, area.v2):
        yield Stroke(u1=area.u1, v1=v, u2=area.u2, v2=v)
    for u in (area.u1, area.u2):
        yield Stroke(u1=u, v1=area.v1, u2=u, v2=area.v2)


def _as_face(rectangle: Rectangle) -> Face:
    return Face(key="", name="", u=rectangle.u, v=rectangle.v, near=ZERO)


def _shape(mark: SlotMark, rectangle: Rectangle) -> Shape:
    area = area_of(rectangle)
    return Shape(
        kind="slot",
        key=mark.joint,
        name=f"{mark.title} for {mark.other}",
        corners=(
            (area.u1, area.v1),
            (area.u2, area.v1),
            (area.u2, area.v2),
            (area.u1, area.v2),
        ),
        data=(("u", mark.u), ("v", mark.v)),
    )


def _with_end_names(sheet: Sheet) -> Sheet:
    """Return the sheet with room for the end names before the sizes begin."""
    piece, room = sheet.piece, END_ROOM * sheet.text
    grown = Area(u1=piece.u1 - room, v1=piece.v1 - room, u2=piece.u2, v2=piece.v2)
    return Sheet(piece=grown, text=sheet.text)


def _end_names(turned: Turned, lines: Sequence[Stroke], sheet: Sheet) -> Iterator[Text]:
    """Name the four ends beside the face, where few lines run."""
    t, u, v = sheet.text, sheet.piece.u2, sheet.piece.v2
    left, right, low, high = turned.ends
    beside: Mapping[str, float] = {left: -END_GAP * t, right: u + END_GAP * t}
    for words, at in beside.items():
        height = text_width(words) * t
        areas = [centred(at, s * v, width=t, height=height) for s in END_PLACES]
        yield Text(words=words, kind="end", area=_free(areas, lines), rotated=True)
    above: Mapping[str, float] = {low: -END_GAP * t, high: v + END_GAP * t}
    for words, at in above.items():
        width = text_width(words) * t
        areas = [centred(s * u, at, width=width, height=t) for s in END_PLACES]
        yield Text(words=words, kind="end", area=_free(areas, lines))


def _free(areas: Sequence[Area], lines: Sequence[Stroke]) -> Area:
    """Return the first of the areas that the fewest lines run through."""
    return min(areas, key=lambda area: sum(bool(inside(x, area)) for x in lines))
