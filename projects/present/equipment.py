"""A machine's limits as typed, as read and as usual; what came of a written check."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from django.forms import BoundField
from django.utils.translation import gettext

from projects.engine.errors import LengthError
from projects.engine.shop.equipment import (
    EQUIPMENT,
    Measure,
    read_measure,
    with_unit,
)
from projects.engine.shop.machines import MACHINES
from projects.engine.units import decimal_text, exact_text, mm_per
from projects.models import CheckTaken, Machine
from projects.shop_forms import MachineEditForm
from projects.shops import usual_side


@dataclass(frozen=True, kw_only=True)
class LimitLine:
    """One limit on the form: its words, what was read of it, what is usual."""

    bound: BoundField
    label: str
    meaning: str
    many: bool
    read: str
    usual: str
    source: str


def limit_lines(form: MachineEditForm, machine: Machine) -> tuple[LimitLine, ...]:
    """Return a machine's limits as a page shows them."""
    return tuple(_line(form, machine.kind, one) for one in form.measures)


def _line(form: MachineEditForm, kind: str, measure: Measure) -> LimitLine:
    bound = form[f"limit_{measure.key}"]
    usual = usual_side(kind, measure.key)
    return LimitLine(
        bound=bound,
        label=gettext(measure.label),
        meaning=gettext(measure.meaning),
        many=measure.unit == "lengths",
        read=_read(measure, str(bound.value() or "")),
        usual=exact_text(usual.value, unit="in") if usual else "",
        source=usual.source if usual else "",
    )


def _read(measure: Measure, typed: str) -> str:
    """Return what was understood of a text, or nothing where it can't be read."""
    if not typed:
        return ""
    try:
        lengths = read_measure(measure, typed)
    except LengthError:
        return ""
    return "; ".join(map(_both, lengths))


def _both(mm: Fraction) -> str:
    return f"{decimal_text(mm / mm_per('in'), 3)} in = {decimal_text(mm, 2)} mm"


def typed_limits(machine: Machine) -> list[tuple[str, str]]:
    """Return what was written down of a machine, as typed, in its kind's order.

    A unit stands behind what was typed without one.
    """
    return [
        (gettext(measure.label), with_unit(machine.limits[measure.key]))
        for measure in EQUIPMENT.get(machine.kind, ())
        if machine.limits.get(measure.key)
    ]


def kind_names(kinds: Iterable[str]) -> list[str]:
    """Return what kinds of machine are called."""
    return [gettext(MACHINES[kind].name) for kind in kinds]


@dataclass(frozen=True, kw_only=True)
class AnswerLine:
    """One question of a check that was taken; `given` is what was chosen."""

    text: str
    given: str
    answer: str
    why: str
    source: str
    is_right: bool


def answer_lines(taken: CheckTaken) -> tuple[AnswerLine, ...]:
    """Return the questions of a check as they were asked, those gone wrong first."""
    lines = tuple(map(_answer, taken.answers))
    return tuple(sorted(lines, key=lambda line: line.is_right))


def _answer(answer: dict[str, Any]) -> AnswerLine:
    choices, given = answer["choices"], answer["given"]
    return AnswerLine(
        text=answer["text"],
        given="" if given is None else choices[given],
        answer=choices[answer["right"]],
        why=answer["why"],
        source=answer["source"],
        is_right=given == answer["right"],
    )
