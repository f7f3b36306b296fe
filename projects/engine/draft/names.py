"""From the engine's equations back to the entries they come from, in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from projects.engine.draft.reading import Reading
from projects.engine.draft.records import Ref
from projects.engine.fit.equations import structure, wanted
from projects.engine.plan.records import Plan

MOST_NAMES = 5
"""How many names a sentence lists before it only counts the rest [-]."""


@dataclass(frozen=True, kw_only=True)
class Source:
    """Hold the entry an equation comes from, and what to call it."""

    ref: Ref
    words: str


def sources(reading: Reading, plan: Plan) -> dict[str, Source]:
    """Return the source of every equation, by the equation's name."""
    made: list[Source] = []
    for n, joint in enumerate(plan.joints):
        words = plan.joint_name(joint)
        made.append(Source(ref=reading.ref("joints", n), words=words))
    for n, faces in enumerate(plan.flush):
        for face in faces[1:]:
            words = f"{plan.face_name(faces[0])} flush with {plan.face_name(face)}"
            made.append(Source(ref=reading.ref("flush", n), words=words))
    for n, pairs in enumerate(plan.even):
        words = f"even spaces from {plan.face_name(pairs[0][0])}"
        more = len(pairs) - 1
        made += [Source(ref=reading.ref("even", n), words=words)] * more
    for n, part in enumerate(plan.parts):
        ref = reading.ref("parts", n, name="stock")
        made.append(Source(ref=ref, words=f"{part.name} thickness"))
    found: dict[str, Source] = {}
    for equation, source in zip(structure(plan), made, strict=True):
        found.setdefault(equation.name, source)
    at = {distance.key: n for n, distance in enumerate(plan.distances)}
    for distance, equation in wanted(plan):
        ref = reading.ref("distances", at[distance.key])
        found[equation.name] = Source(ref=ref, words=distance.name)
    return found


def unique(refs: Iterable[Ref]) -> tuple[Ref, ...]:
    """Return each pointer once, in order."""
    return tuple(dict.fromkeys(refs))


def in_words(of: Iterable[Source], *, most: int = MOST_NAMES) -> str:
    """Return sources as a sentence has them; two called the same with their keys."""
    once = list(dict.fromkeys(of))
    words = [source.words for source in once]
    return listed(
        [
            f"{source.words} ({source.ref.key})"
            if words.count(source.words) > 1 and source.ref.key
            else source.words
            for source in once
        ],
        most=most,
    )


def listed(names: Sequence[str], *, most: int = MOST_NAMES) -> str:
    """Return names as a sentence has them, each once.

    >>> listed(["Seat", "Shelf", "Back"])
    'Seat, Shelf and Back'
    """
    once = list(dict.fromkeys(names))
    if len(once) > most + 1:
        return f"{', '.join(once[:most])} and {len(once) - most} more"
    if len(once) < 2:
        return "".join(once)
    return f"{', '.join(once[:-1])} and {once[-1]}"
