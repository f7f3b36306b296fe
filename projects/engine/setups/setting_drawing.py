"""A small drawing of each setting: a part, or the two of a pair, as they lie."""

from __future__ import annotations

from projects.engine.drawing.records import Picture
from projects.engine.drawing.setting_view import setting_view
from projects.engine.fit.solve import Solution
from projects.engine.setups.setting_records import Piece, Setting
from projects.engine.setups.setting_scene import Say, Scene, Show
from projects.engine.setups.setting_words import (
    piece_words,
    setting_words,
)


def setting_drawing(
    solution: Solution,
    setting: Setting,
    *,
    show: Show,
    say: Say = str,
    width_mm: float = 95,
    height_mm: float = 100,
    text_mm: float = 3.4,
) -> Picture | None:
    """Draw a setting: its first part as it lies, with its mirror image if it has one.

    Parameters
    ----------
    solution
        The solved build that the setting is of.
    setting
        One of `step_settings`.
    show
        Words a length [mm].
    say
        Translates a word or a template.
    width_mm
        How wide the drawing will be shown [mm].
    height_mm
        How tall it may become [mm].
    text_mm
        Text size [mm] at that width.

    Returns None where nothing can be drawn yet: a number waits for a dry fit, or the
    plan doesn't fix the place.
    """
    if any(quantity.mm is None for quantity in setting.quantities):
        return None
    scene = Scene(solution=solution, setting=setting, show=show, say=say)
    parts = [laid for piece in _drawn(setting) if (laid := scene.laid(piece))]
    if not parts:
        return None
    said = [
        *setting_words(solution.plan, setting),
        *(
            words
            for piece in _drawn(setting)
            for words in piece_words(solution.plan, setting, piece)
        ),
    ]
    return setting_view(
        parts,
        caption=", ".join(part.title for part in parts),
        description=" ".join(words.text(show=show, say=say) for words in said),
        width_mm=width_mm,
        height_mm=height_mm,
        text_mm=text_mm,
    )


def _drawn(setting: Setting) -> list[Piece]:
    """Return the first piece, and the one that is its mirror image."""
    first = setting.pieces[0]
    images = [
        other
        for other in setting.pieces[1:]
        if first.worked and other.part == first.mirrors and other.mirrors == first.part
    ]
    return [first, *images[:1]]
