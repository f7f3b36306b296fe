"""Benchmarks: what `manage.py bench` runs, and how it judges.

Each `bench_*.py` here registers functions that return one figure:

    @bench("fit.class", limit=5, how="all sizes of 30 students over one product")
    def fit_class() -> float:
        return ratio(all_sizes, one_product)

A figure is a ratio or a count taken in one run, so it holds on any computer.
"""

import contextlib
import importlib
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from django.core.management import call_command
from django.db import connections
from django.test.utils import (
    override_settings,
    setup_databases,
    setup_test_environment,
    teardown_databases,
    teardown_test_environment,
)

Measure = Callable[[], float]


@dataclass(frozen=True, kw_only=True)
class Benchmark:
    """A figure to take, and the limit it is held to."""

    name: str
    measure: Measure
    limit: float
    how: str
    at_least: bool
    db: bool


@dataclass(frozen=True, kw_only=True)
class Result:
    """A figure taken."""

    benchmark: Benchmark
    figure: float

    @property
    def holds(self) -> bool:
        """Say whether the figure keeps to its limit."""
        if self.benchmark.at_least:
            return self.figure >= self.benchmark.limit
        return self.figure <= self.benchmark.limit


_registered: dict[str, Benchmark] = {}


def bench(
    name: str, *, limit: float, how: str, at_least: bool = False, db: bool = False
) -> Callable[[Measure], Measure]:
    """Register a function that returns a figure.

    The limit is an upper bound, or with `at_least` a lower one. With `db` there is
    an empty database of the run's own, and the static files are collected.
    """

    def register(measure: Measure) -> Measure:
        if name in _registered:
            raise ValueError(f"benchmark {name!r} is registered twice")
        _registered[name] = Benchmark(
            name=name, measure=measure, limit=limit, how=how, at_least=at_least, db=db
        )
        return measure

    return register


def load() -> list[Benchmark]:
    """Import every `bench_*.py` here; list the benchmarks by name."""
    for path in sorted(Path(__file__).parent.glob("bench_*.py")):
        importlib.import_module(f"tests.bench.{path.stem}")
    return [_registered[name] for name in sorted(_registered)]


def choose(benchmarks: Sequence[Benchmark], names: Sequence[str]) -> list[Benchmark]:
    """Pick benchmarks by full name or prefix; all of them without a name."""
    for name in names:
        if not any(benchmark.name.startswith(name) for benchmark in benchmarks):
            known = ", ".join(benchmark.name for benchmark in benchmarks) or "none"
            raise LookupError(f"no benchmark is called {name!r}; there are: {known}")
    wanted = tuple(names) or ("",)
    return [one for one in benchmarks if one.name.startswith(wanted)]


def run(benchmarks: Sequence[Benchmark]) -> Iterator[Result]:
    """Take the figures one after the other."""
    with contextlib.ExitStack() as stack:
        if any(benchmark.db for benchmark in benchmarks):
            stack.enter_context(throw_away_site())
        for benchmark in benchmarks:
            yield Result(benchmark=benchmark, figure=float(benchmark.measure()))


@contextlib.contextmanager
def throw_away_site() -> Iterator[None]:
    """Give a database and static files that nobody else uses."""
    with (
        tempfile.TemporaryDirectory() as folder,
        override_settings(STATIC_ROOT=f"{folder}/static"),
    ):
        sqlite = connections["default"].vendor == "sqlite"
        if sqlite:  # a file, as in real use, not memory
            database = connections["default"].settings_dict
            database["TEST"]["NAME"] = f"{folder}/bench.sqlite3"
        setup_test_environment()
        made = setup_databases(verbosity=0, interactive=False)
        try:
            call_command("collectstatic", interactive=False, verbosity=0)
            yield
        finally:
            teardown_databases(made, verbosity=0)
            teardown_test_environment()


def ratio(
    a: Callable[[], object], b: Callable[[], object], *, rounds: int = 7
) -> float:
    """Divide the median time of a by that of b, the rounds taken in turn [-]."""
    times: tuple[list[float], list[float]] = ([], [])
    for _round in range(rounds):
        for work, taken in zip((a, b), times, strict=True):
            started = time.perf_counter()
            work()
            taken.append(time.perf_counter() - started)
    return statistics.median(times[0]) / statistics.median(times[1])
