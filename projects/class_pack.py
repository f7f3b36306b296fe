"""The sheets of a class pack, and what names them: all that goes into them."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch
from django.template.loader import render_to_string

from projects import adapters
from projects.engine.errors import EngineError
from projects.engine.fit.solve import Solution
from projects.models import Build, Reading, ShopClass
from projects.present.sheet_machines import SheetMachine
from projects.printing.cut_sheet import sheet_context
from projects.progress import ShopMachines, machines_for
from projects.sheet_machines import machines_on_sheet
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One student's sheet, solved and ready to be written."""

    build: Build
    rows: Sequence[Reading]
    solution: Solution
    machines: Sequence[SheetMachine]


@dataclass(frozen=True, kw_only=True)
class Rows:
    """All that a class's sheets are made from, fetched."""

    builds: Sequence[Build]
    machines: ShopMachines


def rows_of(shop_class: ShopClass, *, today: date) -> Rows:
    """Return what the sheets of the students present are made from; five queries."""
    readings = Prefetch("readings", Reading.objects.select_related("by"))
    builds = list(
        shop_class.builds.present().with_plan().prefetch_related(readings, "marks")
    )
    students = [build.student_id for build in builds]
    machines = machines_for(shop_class.shop_id, students, today=today)
    return Rows(builds=builds, machines=machines)


def digest(
    shop_class: ShopClass,
    rows: Rows,
    *,
    paper: str,
    showing: Showing,
    today: date,
) -> str:
    """Return what names a pack: the class's number and a hash of what goes into it."""
    went_in = [
        [paper, showing.key, today.isoformat(), shop_class.title],
        [
            (machine.pk, machine.kind, machine.name)
            for machine in rows.machines.machines
        ],
        *(
            [
                build.pk,
                build.student.name,
                build.revision_id,
                build.let_give,
                *(row.pk for row in build.readings.all()),
                *(-mark.pk for mark in build.marks.all()),
                *_acts(build, rows.machines),
            ]
            for build in rows.builds
        ),
    ]
    hashed = hashlib.sha256(json.dumps(went_in).encode()).hexdigest()
    return f"{shop_class.pk}-{hashed}"


def _acts(build: Build, machines: ShopMachines) -> list[tuple[int, int]]:
    """Return the newest record that counts of each machine, by number."""
    return [
        (machine.pk, standing.newest.pk)
        for machine in machines.machines
        if (standing := machines.found.get((build.student_id, machine.pk)))
        and standing.newest
    ]


def solved(rows: Rows) -> tuple[list[Sheet], list[str]]:
    """Return the sheets, and the names of students whose readings contradict."""
    sheets, left_out = [], []
    for build in rows.builds:
        readings = list(build.readings.all())
        try:
            solution = adapters.solve_build(build, readings)
        except EngineError:
            left_out.append(build.student.name)
            continue
        machines = machines_on_sheet(
            build,
            solution,
            marks=build.marks.all(),
            machines=rows.machines.machines,
            found=rows.machines.found,
        )
        sheets.append(
            Sheet(build=build, rows=readings, solution=solution, machines=machines)
        )
    return sheets, left_out


def written(sheets: Sequence[Sheet], showing: Showing) -> Iterator[str]:
    """Give each sheet's HTML in turn; asks the database for nothing."""
    for sheet in sheets:
        context = sheet_context(
            sheet.build, sheet.rows, sheet.solution, showing, machines=sheet.machines
        )
        yield render_to_string("projects/print/cut_sheet.html", context)
