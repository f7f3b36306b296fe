"""The run sheet of thirty students, against an integer program for the same groups."""

from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from random import Random

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp

from projects import adapters
from projects.demo import CLASS_PLAN, PLANS
from projects.engine.fit.solve import solve
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import Reading, Readings
from projects.engine.setups.grouping import Wish
from projects.engine.setups.run_sheet import TOLERANCES, Job, run_sheet, sorted_wishes
from projects.engine.setups.settings import step_settings
from projects.engine.units import read_length
from tests.bench.registry import bench, ratio

STUDENTS, STEPS = 30, 12
HAIR = 1e-7


@cache
def jobs() -> tuple[Job, ...]:
    """Return what thirty students want set in twelve steps of the boot bench.

    Each measured their own stock: poplar from 0.73 to 0.77 in, plywood from 0.225 to
    0.25 in. Steps are taken in their order, those that set something.
    """
    plan = read_plan((PLANS / f"{CLASS_PLAN}.json").read_bytes())
    steps = [
        (step, step.machine)
        for step in adapters.steps_of(plan)
        if step_settings(solve(plan, Readings()), step, step.machine)
    ][:STEPS]
    if len(steps) < STEPS:
        raise RuntimeError(f"the plan has {len(steps)} steps that set something")
    random = Random(11)
    found = []
    for student in range(STUDENTS):
        stock = {
            "poplar34": (reading(random.randint(730, 770)),),
            "ply14": (reading(random.randint(225, 250)),),
        }
        solution = solve(plan, Readings(stock=stock))
        found += [
            Job(who=student, step=step.key, setting=setting)
            for step, machine in steps
            for setting in step_settings(solution, step, machine)
        ]
    return tuple(found)


def reading(thousandths: int) -> Reading:
    """Return a caliper's reading [thousandths of an inch]."""
    length = read_length(str(Fraction(thousandths, 1000)), unit="in")
    return Reading(length=length, instrument="caliper")


def fewest_by_program(wishes: Sequence[Wish[Job]]) -> int:
    """Return how few points pierce every box, by an integer program.

    Each point with a right end on each axis is a variable, each box a row; the matrix
    is built by numpy from floats, with a hair of room for rounding.
    """
    wanted = numpy.array([[float(mm) for mm in w.wanted] for w in wishes])
    under = numpy.array([[float(t.under_mm) for t in w.within] for w in wishes])
    over = numpy.array([[float(t.over_mm) for t in w.within] for w in wishes])
    low, high = wanted - under - HAIR, wanted + over + HAIR
    ends = [numpy.unique(axis) for axis in high.T]
    points = numpy.array(numpy.meshgrid(*ends)).reshape(len(ends), -1).T - HAIR
    inside = (low[:, None] <= points[None]) & (points[None] <= high[:, None])
    serves = inside.all(axis=2).astype(float)
    ones = numpy.ones(serves.shape[1])
    solved = milp(
        ones,
        constraints=LinearConstraint(serves, lb=1),
        integrality=ones,
        bounds=Bounds(0, 1),
    )
    if not solved.success:
        raise RuntimeError(solved.message)
    return round(float(solved.fun))


def all_by_programs() -> int:
    """Return how few setups the integer programs of all sorts need together."""
    wishes = sorted_wishes(jobs(), TOLERANCES)
    return sum(fewest_by_program(group) for group in wishes.values())


@bench(
    "runsheet.time",
    limit=0.2,
    how="run sheet of 30 students x 12 steps, grouped and ordered, over building and "
    "solving the integer programs of the same groups with numpy and HiGHS",
)
def runsheet_time() -> float:
    """Compare a run sheet with integer programs [-]."""
    jobs()
    return ratio(lambda: run_sheet(jobs()), all_by_programs)


@bench(
    "runsheet.count",
    limit=0,
    how="setups of the same run sheet more than the integer programs need",
)
def runsheet_count() -> float:
    """Count the setups that integer programs would save [-]."""
    return len(run_sheet(jobs()).setups) - all_by_programs()
