"""How far each invented student has got in the steps, and whose hand is up.

A step is marked only where the readings and sign-offs of that day let it be: the app's
own rules are asked, as on the phone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from projects import adapters, progress
from projects.demo.term import Term
from projects.engine.fit.solve import Solution
from projects.engine.steps.standing import StepStanding
from projects.models import Build, Hand, StepMark, User
from projects.progress import ShopMachines

CUT, DRY_FIT = 5, 15
"""The numbers of the steps that come after the stock's readings, and the dry fit."""
DONE: dict[str, int] = {
    "tomas": 0,
    "adaeze": 3,
    "leif": 3,
    "rosa": 3,
    "priya": 4,
    "ingrid": 5,
    "yuki": 7,
    "samir": 9,
    "kofi": 11,
    # her dry fit shows a shelf too short: the step stays open
    "meilin": 14,
    "olena": 15,
    "jonah": 20,
}
"""How many steps are done."""
TONIGHT = {"ingrid": 1, "yuki": 1, "samir": 1, "kofi": 1, "jonah": 3}
"""How many of them were done in the meeting that is on."""
HANDS = {
    "leif": (11, "My tape and the caliper on the bench differ"),
    "kofi": (4, "The mortiser's chisel wanders"),
}
"""Who has a hand up: for how many minutes, and what for."""
MOVED_BACK = ("yuki", "crosscut", "The ends are out of square; trim them again")
"""A step that was moved back by the instructor, and done again."""
_MINUTES = timedelta(minutes=1)


@dataclass(frozen=True, kw_only=True)
class Evening:
    """Hold when the class meets, which machines it has and who teaches."""

    term: Term
    machines: ShopMachines
    instructor: User


def machines_then(shop: int, students: Sequence[User], term: Term) -> ShopMachines:
    """Return the shop's machines with the sign-offs as they stood a week ago."""
    day = timezone.localdate(term.ago(1))
    return progress.machines_for(shop, [each.pk for each in students], today=day)


def mark_steps(build: Build, evening: Evening) -> None:
    """Mark the steps that a build's student has done."""
    marks: list[StepMark] = []
    rows = list(build.readings.all())
    # what was cut and measured after it says nothing about the steps before
    stock = [row for row in rows if row.target.startswith(("stock", "part"))]
    for number in range(1, DONE[build.student.username] + 1):
        solution = adapters.solve_build(build, stock if number < DRY_FIT else rows)
        standing = _standings(build, solution, marks, evening)[number - 1]
        if not standing.can_be_ticked:
            raise ValueError(f"{build}: step {number} can't be done yet")
        marks.extend(_marks(build, standing, _at(build, number, evening.term), evening))
    StepMark.objects.bulk_create(marks)


def raise_hands(builds: Sequence[Build], now: datetime) -> None:
    """Raise the hands of who waits for help."""
    Hand.objects.bulk_create(
        Hand(
            build=build,
            raised=True,
            note=HANDS[build.student.username][1],
            at=now - HANDS[build.student.username][0] * _MINUTES,
            by=build.student,
        )
        for build in builds
        if build.student.username in HANDS
    )


def _standings(
    build: Build, solution: Solution, marks: Sequence[StepMark], evening: Evening
) -> tuple[StepStanding, ...]:
    return progress.standings(build, solution, marks=marks, machines=evening.machines)


def _at(build: Build, number: int, term: Term) -> datetime:
    """Return when a step was done: milled, then measured, then cut and fitted."""
    username = build.student.username
    if number > DONE[username] - TONIGHT.get(username, 0):
        return term.tonight + 3 * (number % 10) * _MINUTES
    if number < CUT - 1:
        return term.ago(3) + (60 + 20 * number) * _MINUTES
    if number < CUT:
        return term.ago(2) + 120 * _MINUTES
    if number < DRY_FIT:
        return term.ago(1) + 8 * (number - CUT) * _MINUTES
    return term.ago(1) + (145 + number - DRY_FIT) * _MINUTES


def _marks(
    build: Build, standing: StepStanding, at: datetime, evening: Evening
) -> Iterator[StepMark]:
    """Yield that a step was done; moved back and done again where that happened."""
    step = standing.step
    told = {"build": build, "step": step.key, "title": step.title}
    done = {**told, "done": True, "machine": standing.open_ways[0].machine}
    yield StepMark(**done, at=at, by=build.student)
    username, key, note = MOVED_BACK
    if (build.student.username, step.key) != (username, key):
        return
    instructor = evening.instructor
    yield StepMark(**told, done=False, note=note, at=at + 3 * _MINUTES, by=instructor)
    yield StepMark(**done, at=at + 7 * _MINUTES, by=build.student)
