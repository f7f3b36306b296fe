"""Logging readings and setting them aside."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.advice import SecondLook, Target, expected_mm, second_looks
from projects.engine.fit.solve import Solution
from projects.engine.units import Length
from projects.models import Build, Reading, User

MOST_READINGS = 2000
"""More than anybody measures on one piece; keeps pages quick whatever is sent."""


class SecondLookError(EngineError):
    """Ask for a second look at a reading before it is kept."""

    def __init__(self, looks: Sequence[SecondLook]) -> None:
        self.looks = tuple(looks)
        super().__init__("this reading deserves a second look")


def log_reading(
    build: Build,
    rows: list[Reading],
    *,
    by: User,
    target: Target,
    point: int,
    length: Length,
    typed: str,
    instrument: str,
    keep: bool = False,
    at: datetime | None = None,
) -> Solution:
    """Record a reading of `target` at `point`, taken `at` or now.

    Returns the build solved with it.
    `rows` are the build's readings so far and grow by the new one. Raises
    `SecondLookError` for an implausible reading unless `keep`, and `EngineError`
    for one with which the piece can't be built at all; nothing is written then.
    """
    before = _solved(build, rows)
    others = [
        adapters.engine_reading(row)
        for row in adapters.current_rows(rows)
        if row.target == str(target) and row.point != point
    ]
    looks = second_looks(
        length.mm,
        expected_mm=expected_mm(target, before) if before else None,
        others=others,
        is_fact=target.fact is not None,
    )
    if looks and not keep:
        raise SecondLookError(looks)
    row = Reading(
        build=build,
        target=str(target),
        point=point,
        typed=typed,
        mm=length.mm,
        unit=length.unit,
        instrument=instrument,
        kept_after_second_look=bool(looks),
        at=at or timezone.now(),
        by=by,
    )
    return _append(build, rows, row)


def set_aside(
    build: Build,
    rows: list[Reading],
    *,
    by: User,
    target: Target,
    point: int,
    at: datetime | None = None,
) -> Solution:
    """Record that a point no longer counts; the reading itself stays in the history.

    Raises `EngineError` where there is no such reading, or where the piece can't be
    built without it.
    """
    if not any(
        (row.target, row.point) == (str(target), point)
        for row in adapters.current_rows(rows)
    ):
        raise EngineError("there is no reading here that counts")
    row = Reading(
        build=build,
        target=str(target),
        point=point,
        mm=None,
        unit="",
        instrument=Reading.Instrument.TAPE,
        at=at or timezone.now(),
        by=by,
    )
    return _append(build, rows, row)


def _solved(build: Build, rows: list[Reading]) -> Solution | None:
    """Return the build solved; None where its readings can't all be right.

    Two phones can log at one moment what only together is impossible.
    """
    try:
        return adapters.solve_build(build, rows)
    except EngineError:
        return None


def _append(build: Build, rows: list[Reading], row: Reading) -> Solution:
    """Write the row where the build can be solved with it.

    What was agreed to give for a miscut ends with the next reading of that size.
    """
    if len(rows) >= MOST_READINGS:
        raise EngineError("this build has as many readings as are kept: 2,000")
    is_over = build.let_give != "" and row.target == build.let_give_for
    if is_over:
        build.let_give = build.let_give_for = ""
    solution = adapters.solve_build(build, [*rows, row])
    if is_over:
        with transaction.atomic():
            row.save()
            build.save(update_fields=["let_give", "let_give_for"])
    else:
        row.save()
    rows.append(row)
    return solution
