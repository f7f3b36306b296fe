"""What a cut sheet says of the machines of its steps: a missing sign-off blocks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from projects.engine.shop.machines import MACHINES
from projects.engine.steps.standing import StepStanding
from projects.models import Machine
from projects.present.machines import standing_words
from projects.signoffs import NONE, Pair, Standing


@dataclass(frozen=True, kw_only=True)
class SheetMachine:
    """What a cut sheet says of one kind of machine that the plan's steps use.

    `blocked` are the titles of the steps not done yet that wait for it;
    `goes_another_way` where some of its steps can be done, only not at it.
    """

    name: str
    words: str
    is_signed: bool
    blocked: tuple[str, ...]
    goes_another_way: bool


def sheet_machines(
    student: int,
    standings: Iterable[StepStanding],
    machines: Sequence[Machine],
    found: Mapping[Pair, Standing],
) -> list[SheetMachine]:
    """Return a line for each kind of machine that the steps use, in their order.

    A kind that is only another way, or that the shop lacks, is told where a step is
    blocked for want of it. `machines` are those of the shop; `found` says where the
    student stands with them.
    """
    by_kind: dict[str, list[Standing]] = {}
    for machine in machines:
        standing = found.get((student, machine.pk), NONE)
        by_kind.setdefault(machine.kind, []).append(standing)
    blocked: dict[str, list[str]] = {}
    another_way = set()
    for place in standings:
        kind = place.step.machine
        if kind in by_kind:
            blocked.setdefault(kind, [])
        if not place.is_done and _goes_another_way(place):
            another_way.add(kind)
        for wanting in _wanting(place):
            blocked.setdefault(wanting, []).append(place.step.title)
    return [
        _sheet_machine(kind, by_kind.get(kind, ()), titles, kind in another_way)
        for kind, titles in blocked.items()
    ]


def _goes_another_way(place: StepStanding) -> bool:
    """Tell whether a step can be done, yet not at its own machine, unsigned for."""
    is_open = any(way.state == "open" for way in place.ways)
    return is_open and place.ways[0].state == "not_signed"


def _wanting(place: StepStanding) -> tuple[str, ...]:
    """Return the kinds of machine for want of which a step is blocked."""
    kinds = [b.about for b in place.blocks if b.kind in ("sign_off", "no_machine")]
    return tuple(kind for about in kinds for kind in about)


def _sheet_machine(
    kind: str,
    found: Sequence[Standing],
    blocked: Sequence[str],
    goes_another_way: bool,
) -> SheetMachine:
    best = next((standing for standing in found if standing.may_use), None)
    told = best or max(found, key=_how_much_is_said, default=None)
    return SheetMachine(
        name=_(MACHINES[kind].name),
        words=standing_words(told) if told else _("not in this shop"),
        is_signed=best is not None,
        blocked=tuple(blocked),
        goes_another_way=goes_another_way,
    )


def _how_much_is_said(standing: Standing) -> int:
    return ("none", "lapsed", "withdrawn", "signed").index(standing.state)
