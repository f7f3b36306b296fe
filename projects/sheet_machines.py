"""Where a build's student stands with the machines of its steps, for the cut sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from projects import progress, signoffs
from projects.engine.fit.solve import Solution
from projects.engine.steps.standing import step_standings
from projects.models import Build, Machine, StepMark
from projects.present.sheet_machines import SheetMachine, sheet_machines


def machines_on_sheet(
    build: Build,
    solution: Solution,
    *,
    marks: Iterable[StepMark],
    machines: Sequence[Machine],
    found: Mapping[signoffs.Pair, signoffs.Standing],
) -> list[SheetMachine]:
    """Return what the sheet says of the steps' machines; costs no query.

    `marks` are the build's, oldest first; `machines` those in use in its shop; `found`
    is what `signoffs.standings` returned for them.
    """
    places = step_standings(
        solution,
        progress.course(solution.plan),
        done=progress.done_steps(marks),
        listed={machine.kind for machine in machines},
        signed=signoffs.kinds_signed(build.student_id, machines, found),
    )
    return sheet_machines(build.student_id, places, machines, found)


def machines_of_build(
    build: Build, solution: Solution, *, today: date
) -> list[SheetMachine]:
    """Return what one build's sheet says of its machines; costs three queries."""
    machines = list(
        Machine.objects.filter(shop=build.shop_class.shop_id, retired_at=None)
    )
    found = signoffs.standings(
        [build.student_id], [machine.pk for machine in machines], today=today
    )
    marks = build.marks.all()
    return machines_on_sheet(
        build, solution, marks=marks, machines=machines, found=found
    )
