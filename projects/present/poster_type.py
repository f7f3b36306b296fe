"""How large the type of a poster can be for all of it to stand on one page.

Reckoned from the number of letters, on the narrow side; static/print/posters.css has
the classes and the same measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

WIDTH_MM = 181
HEIGHT_MM = 256
"""What both Letter and A4 have within the margins, less a little."""
LETTER_EM = 0.45
CAPITAL_EM = 0.7
"""How wide a letter is on average, and a capital."""
LINE_EM = 1.2
GAP_EM = 0.25
"""Below each paragraph."""
HEADING_EM = 2
MM_PER_PT = 25.4 / 72
SIZES_PT = (36, 32, 30, 28, 26, 24, 22, 20, 18, 16, 14, 12, 11)
NAMES_PT = ((13, 64), (26, 48), (40, 30), (60, 22))
"""The most letters of a name, and the type it stands in."""
PHOTO_WIDTH_MM = 66
PHOTO_HEIGHT_MM = 58
BANNER_MM = 34
"""The kind, the frame with the sign-off, and the rule below them."""
FOOT_LINE_MM = 4.7
FOOT_LETTERS = 80
"""How many letters a line of the foot holds."""
LIMITS_EM = 0.75
"""The limits stand smaller than the cautions: one steps up to read them."""
LABEL_SHARE = 0.42
"""How much of the width the labels of the limits take."""


def name_pt(name: str) -> int:
    """Return the type size of a machine's name."""
    return next((pt for most, pt in NAMES_PT if len(name) <= most), NAMES_PT[-1][1])


def text_pt(
    name: str,
    texts: Sequence[str],
    limits: Sequence[tuple[str, str]],
    *,
    foot_letters: int,
    has_photo: bool,
) -> int:
    """Return the largest type in which all stands on one page, else the smallest."""
    head = _head_mm(name, has_photo=has_photo)
    foot = 4 + ceil(foot_letters / FOOT_LETTERS) * FOOT_LINE_MM
    for pt in SIZES_PT:
        if head + foot + _text_mm(texts, limits, pt) <= HEIGHT_MM:
            return pt
    return SIZES_PT[-1]


def _head_mm(name: str, *, has_photo: bool) -> float:
    em = name_pt(name) * MM_PER_PT
    width = WIDTH_MM - PHOTO_WIDTH_MM * has_photo
    letters = sum(CAPITAL_EM if one.isupper() else LETTER_EM for one in name)
    lines = ceil(letters * em / width)
    return max(lines * em + BANNER_MM, PHOTO_HEIGHT_MM * has_photo)


def _text_mm(texts: Iterable[str], limits: Sequence[tuple[str, str]], pt: int) -> float:
    em = pt * MM_PER_PT
    # the bullets stand in by 1 em
    own = sum(_lines(text, em, WIDTH_MM - em) * LINE_EM + GAP_EM for text in texts)
    rows = sum(_row_lines(row, LIMITS_EM * em) * LINE_EM + GAP_EM for row in limits)
    headings = 2 + bool(limits)
    return (own + LIMITS_EM * rows + headings * HEADING_EM) * em


def _row_lines(row: tuple[str, str], em: float) -> int:
    label, text = row
    return max(
        _lines(label, em, WIDTH_MM * LABEL_SHARE),
        _lines(text, em, WIDTH_MM * (1 - LABEL_SHARE)),
    )


def _lines(text: str, em: float, width: float) -> int:
    # words are not broken, so about half a word stays empty at the end of a line
    return ceil(len(text) * LETTER_EM * em / (width - 2 * LETTER_EM * em))
