"""Job shops whose best last end is known, solved by the model of the meeting plan.

job_shops.csv holds, for each job, its machines in order and the minutes at each.

ft06, ft10: H. Fisher, G. L. Thompson, Probabilistic learning combinations of local
job-shop scheduling rules, in J. F. Muth, G. L. Thompson (editors), Industrial
Scheduling, Prentice-Hall 1963. la01 to la05: S. Lawrence, Resource constrained project
scheduling: an experimental investigation of heuristic scheduling techniques
(supplement), Carnegie-Mellon University 1984, table 3. Both as J. E. Beasley's
OR-Library hands them on (jobshop1); the rows were seen in two or more public copies
for ft06, ft10 and la01, in one for the others. The best last ends are those that come
with such copies.
"""

import csv
from pathlib import Path

import pytest

from projects.engine.meeting.faults import faults
from projects.engine.meeting.records import Machine, Night, Student, Task, Way
from projects.engine.meeting.solve import solve

BEST = {"ft06": 55, "la01": 666, "la02": 655, "la03": 597, "la04": 590, "la05": 593}
BEST_FT10 = 930


def job_shop(name):
    """Return a job shop as a night: jobs are students, long enough for one by one."""
    with (Path(__file__).parent / "job_shops.csv").open() as file:
        rows = [row for row in csv.DictReader(file) if row["instance"] == name]
    students = tuple(
        Student(
            key=f"job {row['job']}",
            tasks=tuple(
                Task(key=machine, ways=(Way(machine=machine, minutes=int(minutes)),))
                for machine, minutes in zip(
                    row["machines"].split(), row["minutes"].split(), strict=True
                )
            ),
        )
        for row in rows
    )
    everything = [task.ways[0] for student in students for task in student.tasks]
    return Night(
        minutes=sum(way.minutes for way in everything),
        machines=tuple(
            Machine(key=key) for key in sorted({str(way.machine) for way in everything})
        ),
        students=students,
    )


@pytest.mark.parametrize(("name", "best"), BEST.items())
def test_the_best_last_end_comes_out(name, best):
    night = job_shop(name)

    plan = solve(night, objective="last_end", seconds=60, effort=30)

    assert (plan.value, plan.bound) == (best, best)
    assert plan.is_proven
    assert not faults(plan, night)
    assert len(plan.turns) == len(night.task_by_key)


def test_the_bound_of_a_hard_one_is_not_above_its_best_last_end():
    night = job_shop("ft10")

    plan = solve(night, objective="last_end", seconds=3)

    assert plan.bound <= BEST_FT10 <= plan.value
    assert not faults(plan, night)
