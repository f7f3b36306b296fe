"""What is set at a machine for a step, as sentences with its numbers set apart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from django.utils.translation import gettext

from projects.engine.drawing import svg
from projects.engine.fit.solve import Solution
from projects.engine.plan.steps import Step
from projects.engine.setups.setting_drawing import setting_drawing
from projects.engine.setups.setting_records import Setting
from projects.engine.setups.setting_words import piece_words, setting_words
from projects.engine.setups.settings import step_settings
from projects.engine.setups.words import Words
from projects.engine.shop.machines import MACHINES, NO_MACHINE
from projects.engine.steps.standing import StepStanding
from projects.engine.units import Shown
from projects.models import Machine
from projects.present.cut_tools import WayLines
from projects.present.drawings import FONT
from projects.present.fine_numbers import (
    NumberSum,
    drawn_length,
    exactly_beside,
    is_fine,
    number_sums,
)
from projects.present.step_ways import beyond_all, tools_for
from projects.showing import Showing

_MARK = "\N{OBJECT REPLACEMENT CHARACTER}"
"""Stands in a sentence where a length goes; no name in a plan may hold it."""


@dataclass(frozen=True, kw_only=True)
class Bit:
    """A piece of a sentence: its text, and the length that follows it, if any.

    `exactly` is that length in decimals where it is set finer than a tape shows,
    `is_fine` whether it is one set by caliper.
    """

    text: str
    shown: Shown | None = None
    exactly: str = ""
    is_fine: bool = False


Sentence = tuple[Bit, ...]


@dataclass(frozen=True, kw_only=True)
class SettingLines:
    """One setup: what to set, how each part is laid for it, and why not yet.

    `drawing` is an SVG; "" where none was asked for, or nothing can be drawn yet.
    `tools` says what cuts it of what the shop has, `beyond` what of it is more than
    the machine takes, `sums` how each number comes.
    """

    what: tuple[Sentence, ...]
    pieces: tuple[tuple[Sentence, ...], ...]
    why: str
    drawing: str
    tools: WayLines | None
    beyond: tuple[str, ...]
    sums: tuple[NumberSum, ...]


@dataclass(frozen=True, kw_only=True)
class WaySettings:
    """The setups of a step at one machine."""

    machine: str
    settings: tuple[SettingLines, ...]

    @property
    def is_beyond(self) -> bool:
        """Tell whether a number is more than the machine takes."""
        return any(setting.beyond for setting in self.settings)


def way_settings(
    standing: StepStanding,
    solution: Solution,
    showing: Showing,
    *,
    not_yet: str,
    drawn: bool,
    has: Sequence[Machine] = (),
) -> tuple[WaySettings, ...]:
    """Return the setups of each way that is open; where none is, those of the plan's.

    A way at which nothing is set is left out; one whose machine, of those the shop
    `has`, takes less comes last. With `drawn` those of the first come with drawings.
    """
    open_ways = [way.machine for way in standing.open_ways]
    machines = open_ways or [standing.step.machine]
    every = (
        WaySettings(
            machine=gettext(MACHINES[machine].name),
            settings=_settings(
                standing.step,
                machine,
                solution,
                showing,
                not_yet=not_yet,
                drawn=drawn and machine == machines[0],
                has=has,
            ),
        )
        for machine in machines
        if machine != NO_MACHINE
    )
    ways = [way for way in every if way.settings]
    return tuple(sorted(ways, key=lambda way: way.is_beyond))


def _settings(
    step: Step,
    machine: str,
    solution: Solution,
    showing: Showing,
    *,
    not_yet: str,
    drawn: bool,
    has: Sequence[Machine],
) -> tuple[SettingLines, ...]:
    plan = solution.plan
    found = (
        (setting, beyond_all(has, solution, setting, showing))
        for setting in step_settings(solution, step, machine)
    )
    return tuple(
        SettingLines(
            what=_sentences(setting_words(plan, setting), setting, showing),
            pieces=tuple(
                _sentences(piece_words(plan, setting, piece), setting, showing)
                for piece in setting.pieces
            ),
            why=gettext("in doubt: measure again") if setting.in_doubt else not_yet,
            drawing=_drawing(solution, setting, showing) if drawn and not more else "",
            tools=None if more else tools_for(has, setting, showing),
            beyond=more,
            sums=number_sums(solution, setting, showing) if drawn else (),
        )
        for setting, more in found
    )


def _drawing(solution: Solution, setting: Setting, showing: Showing) -> str:
    show = partial(drawn_length, setting=setting, showing=showing)
    picture = setting_drawing(solution, setting, show=show, say=gettext)
    return svg(picture, font_family=FONT) if picture else ""


def _sentences(
    every: Iterable[Words], setting: Setting, showing: Showing
) -> tuple[Sentence, ...]:
    return tuple(_sentence(words, setting, showing) for words in every)


def _sentence(words: Words, setting: Setting, showing: Showing) -> Sentence:
    lengths: list[tuple[Shown, str, bool]] = []

    def show(mm: Fraction) -> str:
        # a slot is cut to its guest's caliper reading, finer than any tape
        is_width = mm == setting.width_mm
        shown = showing.difference(mm) if is_width else showing.of(mm)
        exactly = "" if is_width else exactly_beside(mm, setting, showing)
        lengths.append((shown, exactly, is_fine(setting, mm)))
        return f"{_MARK}{len(lengths) - 1}{_MARK}"

    # a phrase may be filled before the words around it, so each length has its number
    pieces = words.text(show=show, say=gettext).split(_MARK)
    texts, numbers = pieces[::2], [*map(int, pieces[1::2]), None]
    return tuple(
        Bit(text=text)
        if n is None
        else Bit(
            text=text,
            shown=lengths[n][0],
            exactly=lengths[n][1],
            is_fine=lengths[n][2],
        )
        for text, n in zip(texts, numbers, strict=True)
    )
