"""Say what is cut on a part in words: the sentences beside its drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from projects.engine.drawing.page import clean
from projects.engine.drawing.worked import (
    Measured,
    PartSheet,
    Show,
    SlotMark,
    WorkedFace,
    WorkNote,
)

NO_BREAK = "\u00a0"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, kw_only=True)
class Line:
    """Keep one line of words, with the letter it explains, if any."""

    words: str
    letter: str = ""


@dataclass(frozen=True, kw_only=True)
class PartWords:
    """Keep the words that go with a part's drawing."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, kw_only=True)
class Lettered:
    """Keep the letter of a cut, and the lines that say what it is, the first time."""

    letter: str
    lines: tuple[Line, ...]


def part_words(sheet: PartSheet, *, show: Show) -> PartWords:
    """Return the words that go with the drawing of a part or a pair.

    Its name; how many of what stock and size; what each letter means; and what is
    cut though it can't be drawn. `show` words a length [mm].
    """
    cuts = (mark for row in lettered(sheet, show=show) for mark in row)
    return PartWords(
        title=_title(sheet),
        lines=(
            *(Line(words=words) for words in _size_lines(sheet, show=show)),
            *(line for mark in cuts for line in mark.lines),
            *(Line(words=words) for words in _note_lines(sheet, show=show)),
        ),
    )


def letter(number: int) -> str:
    """Return the letter of a mark: A to Z, then AA and on.

    >>> [letter(number) for number in (0, 25, 26)]
    ['A', 'Z', 'AA']
    """
    rest, last = divmod(number, len(LETTERS))
    return (letter(rest - 1) if rest else "") + LETTERS[last]


def lettered(sheet: PartSheet, *, show: Show) -> tuple[tuple[Lettered, ...], ...]:
    """Return the letters of each row of faces; cuts that mirror each other share one.

    A tenon that shows on two faces has one letter too.
    """
    rows = []
    known: dict[tuple[str, str], str] = {}
    for row in sheet.rows:
        found = []
        for marks in zip(*(face.marks for face in row), strict=True):
            cut = (marks[0].joint, marks[0].kind)
            is_new = cut not in known or marks[0].kind == "slot"
            if is_new:
                known[cut] = letter(len(set(known.values())))
            lines = _lines(known[cut], marks, row, sheet, show) if is_new else ()
            found.append(Lettered(letter=known[cut], lines=lines))
        rows.append(tuple(found))
    return tuple(rows)


def _lines(
    name: str,
    marks: Sequence[SlotMark],
    row: Sequence[WorkedFace],
    sheet: PartSheet,
    show: Show,
) -> tuple[Line, ...]:
    """Say what a letter stands for: once, if it is the same on both of a pair."""
    told = [
        mark_words(mark, face=face, show=show)
        for mark, face in zip(marks, row, strict=True)
    ]
    if len(set(told)) == 1:
        others = " / ".join(dict.fromkeys(clean(mark.other) for mark in marks))
        head = f"{marks[0].title} for {others}"
        return (Line(letter=name, words=f"{head}: {told[0]}"),)
    return tuple(
        Line(
            letter=name,
            words=f"{clean(part.name)}, {mark.title.lower()} for "
            f"{clean(mark.other)}: {words}",
        )
        for part, mark, words in zip(sheet.parts, marks, told, strict=True)
    )


def _title(sheet: PartSheet) -> str:
    """Name the part, or the two parts of a pair."""
    names = " and ".join(clean(part.name) or part.key for part in sheet.parts)
    return f"{names}, a mirrored pair" if len(sheet.parts) > 1 else names


def _size_lines(sheet: PartSheet, *, show: Show) -> tuple[str, ...]:
    """Say how many there are of each part, of what, and how large."""
    said = [
        f"{part.count} of {clean(part.stock)}: {_unbroken(show(part.length_mm))} long, "
        f"{_unbroken(show(part.width_mm))} wide, "
        f"{_unbroken(show(part.thickness_mm))} thick"
        for part in sheet.parts
    ]
    if len(said) > 1 and len(set(said)) == 1:
        return (f"Each {said[0]}",)
    if len(said) == 1:
        return tuple(said)
    return tuple(
        f"{clean(part.name)}: {words}"
        for part, words in zip(sheet.parts, said, strict=True)
    )


def _note_lines(sheet: PartSheet, *, show: Show) -> tuple[str, ...]:
    """Say what is cut that no rectangle can show."""
    found = []
    for part in sheet.parts:
        whose = f"{clean(part.name)}: " if len(sheet.parts) > 1 else ""
        found += [f"Not drawn: {whose}{_note(n, show)}" for n in part.notes]
    if not any(face.marks for part in sheet.parts for face in part.faces) and not found:
        found.append("Nothing is cut on its faces.")
    return tuple(found)


def _note(note: WorkNote, show: Show) -> str:
    sizes = ", ".join(_measures(note.measures, show))
    return f"{note.title} for {clean(note.other)}, {sizes}; {note.why}"


def face_title(face: WorkedFace) -> str:
    """Say which face is seen.

    Examples
    --------
    >>> side = Fraction(9)
    >>> face = WorkedFace(
    ...     face="right", u_ends=("bottom", "top"), v_ends=("front", "back"),
    ...     width_mm=side, height_mm=side, outline=(), either="left",
    ... )
    >>> face_title(face)
    'Right or left face'
    """
    if face.either:
        return f"{face.face.capitalize()} or {face.either} face"
    if face.free:
        return f"Seen from the {face.face}"
    return f"{face.face.capitalize()} face"


def mark_words(mark: SlotMark, *, face: WorkedFace, show: Show) -> str:
    """Say a cut's sizes, from which end it is measured, and how it stops."""
    if mark.kind == "tenon":
        return ", ".join(_measures(mark.measures, show))
    if mark.kind == "notch":
        u, v = (_unbroken(show(high - low)) for low, high in (mark.u, mark.v))
        return f"{u} by {v}, at the {_corner(mark, face)}"
    if mark.kind == "holes":
        holes = ", ".join(_measures(mark.measures, show))
        return f"{holes}; in the dashed area, the plan doesn't say where"
    enclosed = mark.low == mark.high == "stopped"
    low, high = mark.v if mark.across == "u" else mark.u
    sizes = [f"{_unbroken(show(mark.width_mm))} wide"]
    sizes += [f"{_unbroken(show(high - low))} long"] if enclosed else []
    sizes += [_deep(mark, show), *_measures(mark.measures, show)]
    sizes.append(_start(mark, face, show, along_u=mark.across == "u"))
    if enclosed:
        sizes.append(_start(mark, face, show, along_u=mark.across != "u"))
        return ", ".join(sizes)
    tail = "; the plan leaves open from which face" if face.either else ""
    return ", ".join(sizes) + "".join(_stops(mark, face, show)) + tail


def _unbroken(words: str) -> str:
    """Return words that no line breaks in."""
    return words.replace(" ", NO_BREAK)


def _measures(measures: Sequence[Measured], show: Show) -> list[str]:
    return [f"{measure.name} {_unbroken(show(measure.mm))}" for measure in measures]


def _deep(mark: SlotMark, show: Show) -> str:
    if mark.through or mark.depth_mm is None:
        return "right through"
    return f"{_unbroken(show(mark.depth_mm))} deep"


def _start(mark: SlotMark, face: WorkedFace, show: Show, *, along_u: bool) -> str:
    """Say where the cut starts."""
    low, high = face.u_ends if along_u else face.v_ends
    start, end = mark.u if along_u else mark.v
    if start == 0:
        return f"at the {low}"
    out = end == (face.width_mm if along_u else face.height_mm)
    tail = f" on, out at the {high}" if out else ""
    return f"{_unbroken(show(start))} from the {low}{tail}"


def _corner(mark: SlotMark, face: WorkedFace) -> str:
    u = face.u_ends[mark.u[0] > 0]
    v = face.v_ends[mark.v[0] > 0]
    return f"{u} {v} corner"


def _stops(mark: SlotMark, face: WorkedFace, show: Show) -> Iterator[str]:
    """Say how the cut ends the other way, where it does before the part's edge."""
    along_v = mark.across == "u"
    low_name, high_name = face.v_ends if along_v else face.u_ends
    start, end = mark.v if along_v else mark.u
    whole = face.height_mm if along_v else face.width_mm
    for reach, name, short in (
        (mark.low, low_name, start),
        (mark.high, high_name, whole - end),
    ):
        yield _stop(reach, name, short, show)


def _stop(reach: str, name: str, short_mm: Fraction, show: Show) -> str:
    short = f"{_unbroken(show(short_mm))} from the {name}"
    if not short_mm:
        return ""
    if reach == "stopped":
        return f"; stops {short}"
    if reach == "guest":
        return f"; ends {short}, or runs out there"
    return ""
