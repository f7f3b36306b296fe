"""The class pack of thirty students, against thirty single sheets."""

import time
from collections.abc import Callable, Sequence
from functools import cache

from django.utils import timezone

from projects import actions, adapters, class_pack, demo
from projects.class_pack import Rows
from projects.models import Build, Reading, ShopClass, User
from projects.printing import packs
from projects.printing.cut_sheet import cut_sheet_pdf
from projects.printing.packs import Pack
from projects.sheet_machines import machines_on_sheet
from projects.showing import showing_named
from tests.bench.bench_web import class_of_builds
from tests.bench.registry import bench

STUDENTS = 30


@cache
def thirty() -> ShopClass:
    """Return a class of thirty: the demo's students' readings, dealt out."""
    models = class_of_builds()
    shop_class = models[0].shop_class
    people = [User(username=f"pack-{n}", name=f"Student {n}") for n in range(STUDENTS)]
    made = actions.open_class(
        shop_class.shop.owner,
        title=demo.CLASS_TITLE,
        revision=shop_class.revision,
        students=people,
    )
    for n, build in enumerate(made.builds.all()):
        for row in models[n % len(models)].readings.all():
            row.pk, row.build, row._state.adding = None, build, True
            row.save()
    return made


def made(rows: Rows, name: str) -> Pack:
    """Make a pack, as the button does, and wait for it."""
    showing = showing_named("", adapters.plan_of(rows.builds[0].revision))
    sheets, left_out = class_pack.solved(rows)
    pack = packs.start(
        name,
        lambda: class_pack.written(sheets, showing),
        total=len(sheets),
        paper="letter",
        left_out=left_out,
    )
    while not pack.is_made:
        if pack.failed or left_out:
            raise RuntimeError(f"the pack was not made; left out: {left_out}")
        time.sleep(0.005)
    return pack


def seconds(work: Callable[[], object]) -> float:
    """Return how long a piece of work takes [s]."""
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def single_sheets(rows: Rows, builds: Sequence[Build]) -> None:
    """Make each student's sheet as its own PDF, from rows that are fetched."""
    for build in builds:
        readings: list[Reading] = list(build.readings.all())
        solution = adapters.solve_build(build, readings)
        machines = machines_on_sheet(
            build,
            solution,
            marks=build.marks.all(),
            machines=rows.machines.machines,
            found=rows.machines.found,
        )
        showing = showing_named("", solution.plan)
        cut_sheet_pdf(
            build, readings, solution, showing, paper="letter", machines=machines
        )


@bench(
    "pack.time",
    limit=1.3,
    db=True,
    how="the class pack of 30 students with the demo's readings, in the background, "
    "from the readings to the file, over 30 single sheets; each once",
)
def pack_time() -> float:
    """Compare a pack with its single sheets [-]."""
    rows = class_pack.rows_of(thirty(), today=timezone.localdate())
    single_sheets(rows, rows.builds[:1])  # fonts and style sheets are read once
    single = seconds(lambda: single_sheets(rows, rows.builds))
    return seconds(lambda: made(rows, f"{thirty().pk}-time")) / single


@bench(
    "pack.again.time",
    limit=0.1,
    db=True,
    how="asking for the pack of an unchanged class again, from the database on, over "
    "one single sheet",
)
def pack_again_time() -> float:
    """Compare a second print with a single sheet [-]."""
    shop_class = thirty()

    def again() -> None:
        today = timezone.localdate()
        rows = class_pack.rows_of(shop_class, today=today)
        showing = showing_named("", adapters.plan_of(shop_class.revision))
        name = class_pack.digest(
            shop_class, rows, paper="letter", showing=showing, today=today
        )
        if packs.find(name) is None:
            made(rows, name)

    again()
    rows = class_pack.rows_of(shop_class, today=timezone.localdate())
    return seconds(again) / seconds(lambda: single_sheets(rows, rows.builds[:1]))
