"""Logging the two diagonals of a dry assembly."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from projects.actions.readings import MOST_READINGS
from projects.engine.errors import EngineError
from projects.engine.fit.advice import Target
from projects.engine.units import Length
from projects.models import Build, Reading, User


@dataclass(frozen=True, kw_only=True)
class Typed:
    """Hold a length and the text it was typed as."""

    text: str
    length: Length


def log_diagonals(
    build: Build,
    rows: Sequence[Reading],
    *,
    by: User,
    key: str,
    pair: tuple[Typed, Typed],
    kept_after_second_look: bool = False,
) -> None:
    """Record both diagonals of the dry assembly whose width is the distance `key`.

    `rows` are the build's readings so far. Both rows are written or neither. Raises
    `EngineError` where the build has as many readings as are kept.
    """
    if len(rows) + len(pair) > MOST_READINGS:
        raise EngineError("this build has as many readings as are kept: 2,000")
    target, at = str(Target(kind="diagonal", key=key)), timezone.now()
    with transaction.atomic():
        for point, typed in enumerate(pair, start=1):
            Reading.objects.create(
                build=build,
                target=target,
                point=point,
                typed=typed.text,
                mm=typed.length.mm,
                unit=typed.length.unit,
                instrument=Reading.Instrument.TAPE,
                kept_after_second_look=kept_after_second_look,
                at=at,
                by=by,
            )
