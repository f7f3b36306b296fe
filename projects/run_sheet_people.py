"""The students of a class as they stand with one machine; costs no query."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from projects import adapters, progress
from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution, solve
from projects.engine.plan.records import Plan
from projects.engine.steps.standing import step_standings
from projects.models import Machine, Presence, Reading
from projects.overview import Roll, Rows, SignOffState, Student
from projects.stands import Place, Said

NO_SIGN_OFF = SignOffState("none", None)
PRESENT = Presence.State.PRESENT


@dataclass(frozen=True, kw_only=True, eq=False)
class Work:
    """One build solved, with where it stands in its steps."""

    solution: Solution
    places: tuple[Place, ...]


@lru_cache(maxsize=512)
def work_of(
    plan: Plan,
    readings: Sequence[Said],
    *,
    done: frozenset[str],
    listed: frozenset[str],
    signed: frozenset[str],
) -> Work | None:
    """Return a build solved and its steps; None where it can't be built as read."""
    rows = [Reading(**said._asdict()) for said in readings]
    try:
        solution = solve(plan, adapters.readings_of(plan, rows))
    except EngineError:
        return None
    course = progress.course(plan)
    found = step_standings(solution, course, done=done, listed=listed, signed=signed)
    places = (Place(number=n, standing=s) for n, s in enumerate(found, start=1))
    return Work(solution=solution, places=tuple(places))


@dataclass(frozen=True, kw_only=True, eq=False)
class Person:
    """One student at the meeting: whether here and signed off, and their steps.

    `work` is None where the build can't be built as read.
    """

    student: Student
    presence: str
    sign_off: SignOffState
    work: Work | None

    @property
    def is_here(self) -> bool:
        """Tell whether the student is there."""
        return self.presence == PRESENT

    @property
    def is_signed(self) -> bool:
        """Tell whether the student is signed off on this very machine."""
        return self.sign_off.state == "signed"

    def places_at(self, kind: str) -> tuple[Place, ...]:
        """Return the steps that can be done at a kind of machine."""
        if self.work is None:
            return ()
        return tuple(
            place
            for place in self.work.places
            if any(way.machine == kind for way in place.standing.ways)
        )

    def open_at(self, kind: str) -> tuple[Place, ...]:
        """Return those of them that are open at it."""
        if not self.is_signed:
            return ()
        return tuple(p for p in self.places_at(kind) if p.standing.is_open)


def lacks_sign_off(person: Person, kind: str) -> tuple[Place, ...]:
    """Return the steps at a kind of machine that wait for nothing but a sign-off."""
    if person.is_signed:
        return ()
    return tuple(
        place
        for place in person.places_at(kind)
        if not place.standing.is_done
        and all(block.kind == "sign_off" for block in place.standing.blocks)
    )


def people_of(
    roll: Roll, rows: Rows, machine: Machine, presences: Mapping[int, str]
) -> Iterator[Person]:
    """Give everybody of a class as they stand with one machine; costs no query."""
    for student in roll.students:
        states = rows.sign_offs.get(student.student, {})
        yield Person(
            student=student,
            presence=presences.get(student.build, PRESENT),
            sign_off=states.get(machine.pk, NO_SIGN_OFF),
            work=work_of(
                rows.plan_of(student),
                rows.readings.get(student.build, ()),
                done=rows.done.get(student.build, frozenset()),
                listed=roll.listed,
                signed=_kinds_signed(roll, states),
            ),
        )


def _kinds_signed(roll: Roll, states: Mapping[int, SignOffState]) -> frozenset[str]:
    return frozenset(
        machine.kind
        for machine in roll.machines
        if states.get(machine.pk, NO_SIGN_OFF).state == "signed"
    )
