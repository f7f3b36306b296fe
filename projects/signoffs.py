"""Where students stand with machines: read from the record, never kept beside it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from projects.models import Machine, SignOff

State = Literal["none", "signed", "lapsed", "withdrawn"]
Pair = tuple[int, int]
"""A student's number and a machine's."""


@dataclass(frozen=True, kw_only=True)
class Standing:
    """Where one student stands with one machine; `newest` is None before any record."""

    state: State
    newest: SignOff | None = None

    @property
    def may_use(self) -> bool:
        """Tell whether there is a sign-off, neither lapsed nor withdrawn."""
        return self.state == "signed"


NONE = Standing(state="none")


def standing(newest: SignOff | None, *, today: date) -> Standing:
    """Return where somebody stands whose newest record for a machine is `newest`.

    A sign-off counts through the day it lapses on.
    """
    if newest is None:
        return NONE
    if newest.act == SignOff.Act.WITHDRAWN:
        return Standing(state="withdrawn", newest=newest)
    if newest.lapses_on is not None and newest.lapses_on < today:
        return Standing(state="lapsed", newest=newest)
    return Standing(state="signed", newest=newest)


def standings(
    students: Collection[int], machines: Collection[int], *, today: date
) -> dict[Pair, Standing]:
    """Return where these students stand with these machines; costs one query.

    A pair without any record is left out: it stands at `NONE`.
    """
    rows = SignOff.objects.filter(student__in=students, machine__in=machines)
    newest = {
        (row.student_id, row.machine_id): row for row in rows.select_related("by")
    }
    return {pair: standing(row, today=today) for pair, row in newest.items()}


def kinds_signed(
    student: int, machines: Iterable[Machine], found: Mapping[Pair, Standing]
) -> frozenset[str]:
    """Return the kinds of machine that a student is signed off on at least one of."""
    return frozenset(
        machine.kind
        for machine in machines
        if found.get((student, machine.pk), NONE).may_use
    )
