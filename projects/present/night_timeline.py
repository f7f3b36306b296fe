"""The timeline of a meeting's plan, ready to be drawn: rows, bars and the clock.

Lengths are in the drawing's own units, a pixel each at full size.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from projects.engine.meeting.records import Turn
from projects.meeting_night import MINUTE, Evening
from projects.models import Machine

LABELS, HEAD, LANE, GAP = 150, 24, 26, 8
LONG = 960
"""How wide the hours are."""
LETTER = 7.5
"""About the width of a letter in a bar."""
TICK_MINUTES = 30


@dataclass(frozen=True, kw_only=True)
class Bar:
    """One turn: where it lies, what stands in it, and what is told of it."""

    x: float
    y: int
    width: float
    height: int
    text: str
    told: str
    is_past: bool


@dataclass(frozen=True, kw_only=True)
class Row:
    """One unit of a machine, or one student."""

    name: str
    y: int
    height: int
    bars: tuple[Bar, ...]


@dataclass(frozen=True, kw_only=True)
class Timeline:
    """The drawing: `ticks` are (x, clock time), `legend` (short, long) of what is cut.

    `now` is where the clock is; None outside of the meeting.
    """

    width: int
    height: int
    rows: tuple[Row, ...]
    ticks: tuple[tuple[float, str], ...]
    legend: tuple[tuple[str, str], ...]
    now: float | None
    labels: int = LABELS
    head: int = HEAD


def machine_rows(evening: Evening) -> Timeline:
    """Return a row for each unit of each machine that somebody is planned at."""
    names = _names(evening)
    rows: list[tuple[str, list[tuple[Turn, str]]]] = []
    for machine in evening.floor.machines:
        own = [turn for turn in evening.turns if turn.machine == str(machine.pk)]
        for unit in range(machine.how_many if own else 0):
            at = [
                (t, names[t.student])
                for t in own
                if t.unit == unit and t.student in names
            ]
            rows.append((_unit_name(machine, unit), at))
    return _timeline(evening, rows)


def student_rows(evening: Evening) -> Timeline:
    """Return a row for each student who is here."""
    places = {str(m.pk): m.name for m in evening.floor.machines}
    rows = []
    for person in evening.people:
        build = str(person.student.build)
        own = [turn for turn in evening.turns if turn.student == build]
        if own:
            at = [(t, places.get(t.machine or "", _("Bench"))) for t in own]
            rows.append((person.student.name, at))
    return _timeline(evening, rows)


def _unit_name(machine: Machine, unit: int) -> str:
    return machine.name if machine.how_many == 1 else f"{machine.name} {unit + 1}"


def _names(evening: Evening) -> dict[str, str]:
    """Return everybody's given name, or the whole where two share that."""
    names = {str(p.student.build): p.student.name for p in evening.people}
    given = Counter(name.split()[0] for name in names.values())
    return {
        build: name.split()[0] if given[name.split()[0]] == 1 else name
        for build, name in names.items()
    }


def _timeline(
    evening: Evening, rows: Sequence[tuple[str, Sequence[tuple[Turn, str]]]]
) -> Timeline:
    minutes = evening.meeting.minutes
    first = min((turn.start for turn in evening.turns), default=0)
    begin = max(0, first // TICK_MINUTES * TICK_MINUTES)
    scale = LONG / (minutes - begin)
    texts = {text for _name, turns in rows for _turn, text in turns}
    short = _short(texts)
    cut: dict[str, str] = {}
    made = []
    y = HEAD
    for name, turns in rows:
        lanes = _lanes([turn for turn, _text in turns])
        bars = []
        for turn, text in turns:
            width = (turn.end - turn.start) * scale - 2
            said = text
            if len(text) * LETTER > width - 6:
                said = short[text]
                cut[said] = text
            bars.append(
                Bar(
                    x=round(LABELS + (turn.start - begin) * scale + 1, 1),
                    y=y + 2 + lanes[turn] * LANE,
                    width=round(max(width, 2), 1),
                    height=LANE - 4,
                    text=said if len(said) * LETTER <= width else "",
                    told=_told(evening, turn, text),
                    is_past=evening.at(turn.end) <= evening.now,
                )
            )
        height = LANE * (max(lanes.values(), default=0) + 1) + GAP
        made.append(Row(name=name, y=y, height=height, bars=tuple(bars)))
        y += height
    passed = (evening.now - evening.meeting.starts_at) / MINUTE
    return Timeline(
        width=LABELS + LONG + 20,
        height=y + 4,
        rows=tuple(made),
        ticks=tuple(
            (round(LABELS + (n - begin) * scale, 1), _clock(evening, n))
            for n in range(begin, minutes + 1, TICK_MINUTES)
        ),
        legend=tuple(sorted(cut.items())),
        now=(
            round(LABELS + (passed - begin) * scale, 1)
            if begin <= passed <= minutes
            else None
        ),
    )


def _lanes(turns: Iterable[Turn]) -> dict[Turn, int]:
    """Return for each turn in a row the first lane that is free then, from 0."""
    until: list[int] = []
    found = {}
    for turn in sorted(turns, key=lambda turn: (turn.start, turn.end)):
        lane = next((n for n, end in enumerate(until) if end <= turn.start), None)
        if lane is None:
            lane = len(until)
            until.append(0)
        until[lane] = turn.end
        found[turn] = lane
    return found


def _short(texts: Iterable[str]) -> Mapping[str, str]:
    """Return the first letters of each text, as many as tell it from the others."""
    every = sorted(texts)

    def one(text: str) -> str:
        initials = "".join(word[0] for word in text.split())
        ways = [initials, *(text[:n] for n in range(2, len(text)))]
        taken = {"".join(w[0] for w in t.split()) for t in every if t != text}
        return next(
            (
                way
                for way in ways
                if len(way) > 1
                and way not in taken
                and sum(t.startswith(way) for t in every) <= 1
            ),
            text,
        )

    return {text: one(text) for text in every}


def _told(evening: Evening, turn: Turn, text: str) -> str:
    return _("%(what)s: %(step)s, %(begins)s–%(ends)s") % {
        "what": text,
        "step": evening.title(turn),
        "begins": _clock(evening, turn.start),
        "ends": _clock(evening, turn.end),
    }


def _clock(evening: Evening, minute: int) -> str:
    return date_format(localtime(evening.at(minute)), "TIME_FORMAT")
