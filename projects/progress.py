"""Where a build stands in its steps: from its marks, sign-offs and shop's machines.

For a whole class on rows fetched once see `stands`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from projects import adapters, signoffs
from projects.engine.fit.solve import Solution
from projects.engine.fit.system import SizeKey
from projects.engine.plan.records import Plan
from projects.engine.steps.sizing import sizes_cut
from projects.engine.steps.standing import (
    Course,
    StepStanding,
    course_of,
    step_standings,
)
from projects.models import Build, Machine, StepMark, User


@dataclass(frozen=True, kw_only=True)
class ShopMachines:
    """A shop's machines that are not retired, and where students stand with them."""

    machines: tuple[Machine, ...]
    found: Mapping[signoffs.Pair, signoffs.Standing]
    listed: frozenset[str]

    def signed(self, student: int) -> frozenset[str]:
        """Return the kinds of machine that a student is signed off on."""
        return signoffs.kinds_signed(student, self.machines, self.found)


def machines_for(shop: int, students: Collection[int], *, today: date) -> ShopMachines:
    """Return a shop's machines and these students' sign-offs; costs two queries."""
    machines = tuple(Machine.objects.filter(shop=shop, retired_at=None))
    keys = [machine.pk for machine in machines]
    return ShopMachines(
        machines=machines,
        found=signoffs.standings(students, keys, today=today),
        listed=frozenset(machine.kind for machine in machines),
    )


@lru_cache(maxsize=64)
def course(plan: Plan) -> Course:
    """Return a plan's steps in order; kept by the plan's digest."""
    return course_of(plan, adapters.steps_of(plan))


def done_steps(marks: Iterable[StepMark]) -> frozenset[str]:
    """Return the keys of the steps that are done; `marks` come oldest first."""
    newest = {mark.step: mark.done for mark in marks}
    return frozenset(key for key, done in newest.items() if done)


def marked_sizes(build: Build) -> frozenset[SizeKey]:
    """Return the sizes whose cutting step is marked as done.

    Costs a query where the marks weren't fetched.
    """
    plan = adapters.plan_of(build.revision)
    return sizes_cut(plan, adapters.steps_of(plan), done_steps(build.marks.all()))


def standings(
    build: Build,
    solution: Solution,
    *,
    marks: Iterable[StepMark],
    machines: ShopMachines,
) -> tuple[StepStanding, ...]:
    """Return where a build stands with each of its steps; costs no query.

    `marks` are the build's, oldest first, as `build.marks.all()` gives them.
    """
    return tuple(
        step_standings(
            solution,
            course(solution.plan),
            done=done_steps(marks),
            listed=machines.listed,
            signed=machines.signed(build.student_id),
        )
    )


def may_write(build: Build, user: User) -> bool:
    """Tell whether somebody may mark a build's steps; costs a query."""
    return Build.objects.written_by(user).filter(pk=build.pk).exists()
