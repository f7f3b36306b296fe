"""Where builds stand, from their rows."""

from django.utils import timezone

from projects import adapters, progress
from projects.models import Build
from tests.factories import MachineFactory, enrol, sign_off
from tests.projects.views.step_plans import mark


def test_the_newest_mark_of_a_step_counts(build):
    rows = [
        mark(build, "rip"),
        mark(build, "plane"),
        mark(build, "rip", done=False),
    ]

    assert progress.done_steps(rows) == {"plane"}


def test_many_builds_cost_two_queries(shop_class, build, django_assert_num_queries):
    saw = MachineFactory.create(shop=shop_class.shop)
    builds = [build, *(enrol(shop_class) for _ in range(3))]
    solved = {b.pk: adapters.solve_build(b, b.readings.all()) for b in builds}
    sign_off(build.student, saw)
    every = Build.objects.with_plan().prefetch_related("marks")
    rows = list(every.filter(pk__in=solved))
    students = [row.student_id for row in rows]

    with django_assert_num_queries(2):
        machines = progress.machines_for(
            shop_class.shop_id, students, today=timezone.localdate()
        )
        found = [
            progress.standings(
                row, solved[row.pk], marks=row.marks.all(), machines=machines
            )
            for row in rows
        ]

    assert {len(one) for one in found} == {23}
    signed = {row.student_id: machines.signed(row.student_id) for row in rows}
    assert signed.pop(build.student_id) == {"table_saw"}
    assert not any(signed.values())
