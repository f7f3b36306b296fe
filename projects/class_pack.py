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
from projects.printing.cut_sheet import sheet_context
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One student's sheet, solved and ready to be written."""

    build: Build
    rows: Sequence[Reading]
    solution: Solution


def builds_of(shop_class: ShopClass) -> list[Build]:
    """Return the builds of the students present, readings fetched; two queries."""
    readings = Prefetch("readings", Reading.objects.select_related("by"))
    builds = shop_class.builds.present().with_plan().prefetch_related(readings)
    return list(builds)


def digest(
    shop_class: ShopClass,
    builds: Sequence[Build],
    *,
    paper: str,
    showing: Showing,
    today: date,
) -> str:
    """Return what names a pack: the class's number and a hash of what goes into it."""
    went_in = [
        [paper, showing.key, today.isoformat(), shop_class.title],
        *(
            [
                build.pk,
                build.student.name,
                build.revision_id,
                max((row.pk for row in build.readings.all()), default=0),
            ]
            for build in builds
        ),
    ]
    hashed = hashlib.sha256(json.dumps(went_in).encode()).hexdigest()
    return f"{shop_class.pk}-{hashed}"


def solved(builds: Sequence[Build]) -> tuple[list[Sheet], list[str]]:
    """Return the sheets, and the names of students whose readings contradict."""
    sheets, left_out = [], []
    for build in builds:
        rows = list(build.readings.all())
        try:
            solution = adapters.solve_build(build, rows)
        except EngineError:
            left_out.append(build.student.name)
        else:
            sheets.append(Sheet(build=build, rows=rows, solution=solution))
    return sheets, left_out


def written(sheets: Sequence[Sheet], showing: Showing) -> Iterator[str]:
    """Give each sheet's HTML in turn; asks the database for nothing."""
    for sheet in sheets:
        context = sheet_context(sheet.build, sheet.rows, sheet.solution, showing)
        yield render_to_string("projects/print/cut_sheet.html", context)
