"""A machine's run sheet as a page: setups, who is left out and why, what moved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from django.utils.formats import date_format
from django.utils.translation import gettext

from projects import progress
from projects.engine.setups.setting_words import setting_words
from projects.engine.shop.cautions import Caution, cautions
from projects.engine.shop.machines import MACHINES
from projects.models import Presence
from projects.present.cut_tools import with_unit
from projects.present.drawings import length_text
from projects.present.run_sheet_moved import SinceLines, since_lines
from projects.present.run_sheet_setup import SetupBlock, setup_blocks
from projects.present.step_words import log_targets, reasons
from projects.run_sheet_forms import KINDS
from projects.run_sheet_moves import Since, build_of
from projects.run_sheet_people import Person, lacks_sign_off
from projects.run_sheets import Night
from projects.showing import Showing
from projects.stands import Place


@dataclass(frozen=True, kw_only=True)
class OutLine:
    """One student left out, or a step of theirs: `number` 0 where no step is meant."""

    build: int
    name: str
    words: str
    number: int = 0
    step: str = ""


@dataclass(frozen=True, kw_only=True)
class OutGroup:
    """Those left out for one kind of reason."""

    key: str
    title: str
    lines: tuple[OutLine, ...]


@dataclass(frozen=True, kw_only=True)
class ReadyLine:
    """A step whose pieces are all cut; `to_log` what it measures first."""

    build: int
    name: str
    number: int
    step: str
    title: str
    to_log: str


@dataclass(frozen=True, kw_only=True)
class ToleranceLine:
    """How far a number of a setup may be off, in words."""

    label: str
    words: str


@dataclass(frozen=True, kw_only=True)
class RunSheetPage:
    """All that the live part of the page shows."""

    blocks: tuple[SetupBlock, ...]
    is_proven: bool
    students: int
    ready: tuple[ReadyLine, ...]
    out: tuple[OutGroup, ...]
    since: SinceLines | None
    tolerances: tuple[ToleranceLine, ...]
    cautions: tuple[Caution, ...]


def run_sheet_page(night: Night, showing: Showing, past: Since | None) -> RunSheetPage:
    """Return a run sheet ready for its templates."""
    return RunSheetPage(
        blocks=setup_blocks(night, showing),
        is_proven=night.sheet.is_proven,
        students=len({job.who for s in night.sheet.setups for job in s.jobs}),
        ready=tuple(_ready(night)),
        out=tuple(group for group in _groups(night, showing) if group.lines),
        since=since_lines(past, night, showing) if past else None,
        tolerances=tuple(_tolerances(night, showing)),
        cautions=_cautions(night),
    )


def _tolerances(night: Night, showing: Showing) -> Iterator[ToleranceLine]:
    for kind in KINDS:
        found = night.tolerances[kind.name]
        more = _small(found.over_mm, showing)
        if kind.under:
            words = gettext("{length}, either way").format(length=more)
        else:
            words = gettext("{length}, wider, never narrower").format(length=more)
        yield ToleranceLine(label=str(kind.label), words=words)


def _small(mm: Fraction, showing: Showing) -> str:
    shown = showing.difference(mm)
    return f"{shown.text} {shown.unit}"


def _cautions(night: Night) -> tuple[Caution, ...]:
    kind = MACHINES[night.machine.kind]
    keys = list(kind.cautions)
    made = {setup.kind for setup in night.sheet.setups}
    if made & {"slot", "groove", "rabbet"}:
        if night.machine.kind == "table_saw":
            keys.append("slot_at_saw")
        elif night.machine.kind in ("router", "router_table"):
            keys.append("slot_with_router")
    if made & {"shoulder", "cheek"} and night.machine.kind == "table_saw":
        keys.append("tenon_at_saw")
    own = night.machine.cautions.splitlines()
    source = gettext("this shop")
    return (
        *cautions(keys),
        *(Caution(text=text, source=source) for text in own if text.strip()),
    )


def _ready(night: Night) -> Iterator[ReadyLine]:
    for task in night.tasks:
        standing = task.place.standing
        if standing.is_done or not task.is_cut(night.cut):
            continue
        names = log_targets(standing.to_log, task.solution)
        yield ReadyLine(
            build=task.build,
            name=task.person.student.name,
            number=task.place.number,
            step=task.step.key,
            title=task.step.title,
            to_log=", ".join(name for _, name in names),
        )


def _groups(night: Night, showing: Showing) -> Iterator[OutGroup]:
    here = [person for person in night.people if person.is_here]
    kind = night.machine.kind
    signed = [person for person in here if person.is_signed]
    yield OutGroup(
        key="unsigned",
        title=gettext("Not signed off for this machine"),
        lines=tuple(
            _unsigned(person, kind)
            for person in here
            if not person.is_signed and _left(person, kind)
        ),
    )
    yield OutGroup(
        key="beyond",
        title=gettext("More than this machine takes"),
        lines=tuple(_beyond(night, showing)),
    )
    yield OutGroup(
        key="waits",
        title=gettext("Something comes first"),
        lines=(
            *_waiting_settings(night, showing),
            *(line for person in signed for line in _waits(person, kind)),
        ),
    )
    yield OutGroup(
        key="unset",
        title=gettext("Open here, with nothing to set"),
        lines=tuple(
            _line(task.person, task.place, gettext("no number to set"))
            for task in night.tasks
            if not task.settings and task.place.standing.is_open
        ),
    )
    yield OutGroup(
        key="away",
        title=gettext("Not here now"),
        lines=tuple(_away(p, kind) for p in night.people if not p.is_here),
    )
    yield OutGroup(
        key="broken",
        title=gettext("Can't be worked out"),
        lines=tuple(
            OutLine(
                build=person.student.build,
                name=person.student.name,
                words=gettext("the build can't be made as it was read"),
            )
            for person in here
            if person.work is None
        ),
    )


def _line(person: Person, place: Place, words: str) -> OutLine:
    return OutLine(
        build=person.student.build,
        name=person.student.name,
        words=words,
        number=place.number,
        step=place.standing.step.title,
    )


def _left(person: Person, kind: str) -> list[Place]:
    return [p for p in person.places_at(kind) if not p.standing.is_done]


def _unsigned(person: Person, kind: str) -> OutLine:
    state, lapses_on = person.sign_off
    words = {
        "none": gettext("no sign-off on record"),
        "withdrawn": gettext("the sign-off was withdrawn"),
        "lapsed": gettext("the sign-off lapsed"),
    }[state]
    if state == "lapsed" and lapses_on:
        day = date_format(lapses_on, "DATE_FORMAT")
        words = gettext("the sign-off lapsed on {day}").format(day=day)
    left = lacks_sign_off(person, kind)
    if left:
        return _line(
            person, left[0], gettext("{why}; all else is ready").format(why=words)
        )
    return _line(person, _left(person, kind)[0], words)


def _waits(person: Person, kind: str) -> Iterator[OutLine]:
    """Give the first step that waits; behind an open one only what wants a reading."""
    if person.work is None:
        return
    has_open = bool(person.open_at(kind))
    course = progress.course(person.work.solution.plan)
    for place in _left(person, kind):
        blocks = place.standing.blocks
        loud = any(block.kind in ("doubt", "reading", "dry_fit") for block in blocks)
        if blocks and (loud or not has_open):
            why = reasons(place.standing, person.work.solution, course)
            yield _line(person, place, "; ".join(reason.words for reason in why))
            return


def _waiting_settings(night: Night, showing: Showing) -> Iterator[OutLine]:
    """Give what waits for a dry fit within steps that are open."""
    told = set()
    show = partial(length_text, showing=showing)
    for job in night.sheet.waiting:
        task = night.task_of[build_of(job), job.step]
        words = " ".join(
            words.text(show=show, say=gettext)
            for words in setting_words(task.solution.plan, job.setting)
        )
        if (task.build, words) not in told:
            told.add((task.build, words))
            yield _line(task.person, task.place, words)


def _beyond(night: Night, showing: Showing) -> Iterator[OutLine]:
    """Give what is on no setup because a number is beyond the machine's own."""
    show = partial(with_unit, showing=showing)
    told: dict[tuple[int, str], dict[str, None]] = {}
    for job, more in night.beyond:
        lines = told.setdefault((build_of(job), job.step), {})
        lines |= {words.text(show=show, say=gettext): None for words in more}
    for key, said in told.items():
        task = night.task_of[key]
        yield _line(task.person, task.place, " ".join(said))


def _away(person: Person, kind: str) -> OutLine:
    name = str(Presence.State(person.presence).label).lower()
    ready = len(person.open_at(kind))
    if ready:
        name = gettext("{where}; steps open here: {n}").format(where=name, n=ready)
    return OutLine(build=person.student.build, name=person.student.name, words=name)
