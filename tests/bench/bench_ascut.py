"""An as-cut reading against an ordinary one, from the phone's request to the answer."""

import time
from statistics import median

from django.db import transaction
from django.test import Client
from django.urls import reverse

from projects.engine.fit import system
from projects.models import Build
from tests.bench.bench_web import browser_of, class_of_builds
from tests.bench.registry import bench

CUTS = (
    ("left_side", "length", "18"),
    ("right_side", "length", "18"),
    ("seat", "length", "35 1/4"),
    ("left_side", "width", "14"),
    ("right_side", "width", "14"),
    ("seat", "width", "14"),
    ("divider", "width", "13 1/2"),
)
"""As the parts of the boot bench come out; together they leave nothing in doubt."""


def seconds_to_log(client: Client, build: Build, target: str, typed: str) -> float:
    """Return how long a reading takes until the refitted sizes are there [s]."""
    data = {
        "target": target,
        "point": "1",
        "length": typed,
        "keep": "1",
        "instrument": "tape",
    }
    url = reverse("readings", args=[build.pk])
    started = time.perf_counter()
    answered = client.post(url, data, headers={"HX-Request": "true"})
    taken = time.perf_counter() - started
    if answered.status_code != 200:
        raise RuntimeError(f"{target} was answered with {answered.status_code}")
    return taken


@bench(
    "ascut.time",
    limit=2,
    db=True,
    how="an as-cut reading, request to answer with all sizes refitted, nothing known "
    "of this set of facts before, over an ordinary thickness reading sent the same "
    "way; medians of seven each",
)
def ascut_time() -> float:
    """Compare an as-cut reading with an ordinary one [-]."""
    builds = class_of_builds()
    # what is logged here is taken back: other benchmarks measure the same class
    with transaction.atomic():
        figure = compared(next(b for b in builds if b.student.username == "priya"))
        transaction.set_rollback(True)
    return figure


def compared(build: Build) -> float:
    """Log cuts and thicknesses in turn; divide their medians [-]."""
    client = browser_of(build)
    seconds_to_log(client, build, "stock:poplar34", "0.745")
    ordinary, cut = [], []
    for part, dimension, typed in CUTS:
        ordinary.append(seconds_to_log(client, build, "stock:poplar34", "0.745"))
        system._compiled.cache_clear()  # as if no other student had these facts
        # what it stands on already is known, as on any evening
        seconds_to_log(client, build, "stock:poplar34", "0.745")
        target = f"cut:{part}.{dimension}"
        cut.append(seconds_to_log(client, build, target, typed))
    return median(cut) / median(ordinary)
