"""A meeting as its page shows it: who does what next, who is there, what runs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from math import ceil

from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from projects.engine.meeting.records import Turn
from projects.meeting_night import MINUTE, Evening, Person
from projects.models import Machine, Meeting, MeetingPlan, Outage, Presence
from projects.present.night_by_hand import ByHand, by_hand
from projects.present.night_since import since
from projects.present.night_timeline import Timeline, machine_rows, student_rows


@dataclass(frozen=True, kw_only=True)
class TurnLine:
    """One turn in words: what, where, and from when to when."""

    title: str
    place: str
    begins: str
    ends: str


@dataclass(frozen=True, kw_only=True)
class PersonPlan:
    """What one student does now, next and then; None where there is nothing.

    `why` says why where nothing is left.
    """

    name: str
    url: str
    now: TurnLine | None
    next: TurnLine | None
    then: TurnLine | None
    why: str = ""


@dataclass(frozen=True, kw_only=True)
class PersonLine:
    """One student's presence, as choices (value, label, whether it is so)."""

    build: int
    name: str
    state: str
    label: str
    said_at: datetime | None
    choices: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True, kw_only=True)
class MachineLine:
    """One machine as it stands tonight."""

    machine: Machine
    by_hand: ByHand
    down: bool
    note: str
    since: datetime | None


@dataclass(frozen=True, kw_only=True)
class ApartLine:
    """What a student can't be planned for, and why; `url` leads to where it is seen."""

    name: str
    url: str
    title: str
    words: str


@dataclass(frozen=True, kw_only=True)
class PlanShown:
    """The newest plan; `since` says what changed since it was made, in sentences."""

    number: int
    at: str
    bound: str
    people: tuple[PersonPlan, ...]
    turns: tuple[tuple[str, TurnLine], ...]
    since: tuple[str, ...]
    machines: Timeline
    students: Timeline


@dataclass(frozen=True, kw_only=True)
class NightPage:
    """All that the page shows of a meeting."""

    meeting: Meeting
    ends_at: datetime
    is_over: bool
    is_on: bool
    can_plan: bool
    people: tuple[PersonLine, ...]
    counts: str
    machines: tuple[MachineLine, ...]
    apart: tuple[ApartLine, ...]
    plan: PlanShown | None


def night_page(evening: Evening) -> NightPage:
    """Return the page of a meeting; costs no query."""
    meeting = evening.meeting
    return NightPage(
        meeting=meeting,
        ends_at=evening.ends_at,
        is_over=evening.is_over,
        is_on=meeting.starts_at <= evening.now < evening.ends_at,
        can_plan=evening.can_plan,
        people=tuple(
            person_line(p.student.build, p.student.name, p.heard)
            for p in evening.people
        ),
        counts=_counts(evening),
        machines=tuple(
            machine_line(machine, evening.outages.get(machine.pk))
            for machine in evening.floor.machines
        ),
        apart=tuple(_apart(evening)),
        plan=plan_shown(evening, evening.plan) if evening.plan else None,
    )


def person_line(build: int, name: str, heard: Presence | None) -> PersonLine:
    """Return one student's presence; before anything was said they are here."""
    state = heard.state if heard else str(Presence.State.PRESENT)
    return PersonLine(
        build=build,
        name=name,
        state=state,
        label=str(Presence.State(state).label),
        said_at=heard.at if heard else None,
        choices=tuple(
            (value, str(label), value == state)
            for value, label in Presence.State.choices
        ),
    )


def machine_line(machine: Machine, newest: Outage | None) -> MachineLine:
    """Return one machine; before anything was said it runs."""
    down = newest is not None and newest.down
    return MachineLine(
        machine=machine,
        by_hand=by_hand(machine),
        down=down,
        note=newest.note if newest and down else "",
        since=newest.at if newest else None,
    )


def _counts(evening: Evening) -> str:
    found = Counter(person.state for person in evening.people)
    told = (
        (Presence.State.PRESENT, _("%(n)d here")),
        (Presence.State.LATE, _("%(n)d later")),
        (Presence.State.AWAY, _("%(n)d away")),
    )
    return ", ".join(text % {"n": found[state]} for state, text in told if found[state])


def _apart(evening: Evening) -> Iterator[ApartLine]:
    for person in evening.people:
        if not person.is_here:
            continue
        name, build = person.student.name, person.student.build
        url = reverse("build-steps", args=[build])
        if person.is_broken:
            words = _("can't be built as read")
            yield ApartLine(name=name, url=url, title="", words=words)
        elif not (person.work.tasks or person.work.apart):
            yield ApartLine(name=name, url=url, title="", words=_("all steps done"))
        for apart in person.work.apart:
            step = apart.place.standing.step
            yield ApartLine(
                name=name,
                url=reverse("build-step", args=[build, step.key]),
                title=f"{apart.place.number}. {step.title}",
                words=apart.words,
            )


def plan_shown(evening: Evening, plan: MeetingPlan) -> PlanShown:
    """Return a plan as it is shown: who does what, and how good that is proved."""
    return PlanShown(
        number=plan.pk,
        at=clock(plan.at, on=evening.now),
        bound=bound_words(plan),
        people=tuple(_person_plan(evening, p) for p in evening.people if p.is_here),
        turns=tuple(_every_turn(evening)),
        since=tuple(since(evening, plan)),
        machines=machine_rows(evening),
        students=student_rows(evening),
    )


def clock(at: datetime, *, on: datetime | None = None) -> str:
    """Return the time of day; with the date where that is another day than `on`."""
    local = timezone.localtime(at)
    if on is not None and local.date() != timezone.localdate(on):
        return date_format(local, "j M, H:i")
    return date_format(local, "TIME_FORMAT")


def bound_words(plan: MeetingPlan) -> str:
    """Return how much better any plan could be, never less than it is."""
    if plan.bound <= plan.value:
        return _("Proved: no plan does more.")
    if plan.value <= 0:
        return _("How much more another plan does isn't known.")
    more = ceil((plan.bound - plan.value) / plan.value * 100)
    return _("No plan can do more than %(n)d %% better.") % {"n": more}


def _line(evening: Evening, turn: Turn) -> TurnLine:
    return TurnLine(
        title=evening.title(turn),
        place=place_name(evening, turn),
        begins=clock(evening.at(turn.start)),
        ends=clock(evening.at(turn.end)),
    )


def place_name(evening: Evening, turn: Turn) -> str:
    """Return where a turn is: the machine, numbered where there are several alike."""
    found = [m for m in evening.floor.machines if str(m.pk) == turn.machine]
    if not found:
        return _("Bench") if turn.machine is None else _("a machine no longer used")
    [machine] = found
    if machine.how_many == 1 or turn.unit is None:
        return machine.name
    return f"{machine.name} {turn.unit + 1}"


def _person_plan(evening: Evening, person: Person) -> PersonPlan:
    minute = (evening.now - evening.meeting.starts_at) / MINUTE
    build = str(person.student.build)
    left = sorted(
        (
            turn
            for turn in evening.turns
            if turn.student == build
            and turn.end > minute
            and (turn.student, turn.task) not in evening.done
        ),
        key=lambda turn: turn.start,
    )
    lines: list[TurnLine | None] = [_line(evening, turn) for turn in left[:3]]
    if not left or left[0].start > minute:
        lines.insert(0, None)
    now, after, then = (*lines, None, None, None)[:3]
    return PersonPlan(
        name=person.student.name,
        url=reverse("build-steps", args=[person.student.build]),
        now=now,
        next=after,
        then=then,
        why="" if left else _why(person),
    )


def _why(person: Person) -> str:
    """Return why nothing is planned for somebody who is here."""
    if person.is_broken:
        return _("Can't be built as read")
    if person.work.apart:
        apart = person.work.apart[0]
        return f"{apart.place.standing.step.title}: {apart.words}"
    if person.work.tasks:
        return _("Not in this plan; plan anew")
    return _("All steps done")


def _every_turn(evening: Evening) -> Iterator[tuple[str, TurnLine]]:
    names = {str(p.student.build): p.student.name for p in evening.people}
    for turn in sorted(
        evening.turns, key=lambda t: (t.start, names.get(t.student, ""))
    ):
        if turn.student in names:
            yield names[turn.student], _line(evening, turn)
