"""Say in words what a drawing shows, for those who hear it read out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from projects.engine.drawing.page import clean
from projects.engine.drawing.records import Dimension, Face, Sight


def describe(
    faces: Sequence[Face], *, sight: Sight, dimensions: Iterable[Dimension]
) -> str:
    """Name the parts seen, nearest first, those hidden, and the sizes shown."""
    nearest_first = faces[::-1]
    seen = [face.name for face in nearest_first if sight.seen[face.key]]
    hidden = [face.name for face in nearest_first if not sight.seen[face.key]]
    sizes = [clean(f"{d.name} {d.text}") for d in dimensions]
    sentences = [f"Seen: {', '.join(seen)}."]
    if hidden:
        sentences.append(f"Hidden, dashed: {', '.join(hidden)}.")
    if sizes:
        sentences.append(f"Sizes: {'; '.join(sizes)}.")
    return " ".join(sentences)
