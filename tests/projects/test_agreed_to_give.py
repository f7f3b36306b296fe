"""What follows in a build once it is agreed which distance gives for a miscut."""

import json

import pytest
from django.utils import timezone

from projects import actions, adapters, class_pack, overview
from projects.engine.fit.advice import Target
from projects.engine.fit.miscut import miscut
from projects.models import Build, WayOut
from projects.showing import showing_named
from tests.engine.builds import data, distance, inches, joint, part, size
from tests.factories import RevisionFactory, ShopClassFactory, enrol, log

CUT = Target(kind="cut", key="b", dimension="length")
# the left part is 6 wanted, both together 18; the right one, wanted at 12, came out 11
PLAN = data(
    [part("a", "xyz"), part("b", "xyz")],
    joints=[joint("ab", "butt", "b.left", "a.right")],
    distances=[
        distance("first", "a.left", "a.right", 6, held=1),
        distance("both", "a.left", "b.right", 18, held=2),
        size("a", "width", "xyz", 4),
    ],
    flush=[["a.front", "b.front"], ["a.back", "b.back"], ["a.top", "b.top"]],
)


@pytest.fixture
def build(db):
    revision = RevisionFactory.create(document=json.dumps(PLAN))
    made = enrol(ShopClassFactory.create(revision=revision))
    log(made, CUT, "11", instrument="tape")
    return made


def solution_of(build):
    again = Build.objects.with_plan().get(pk=build.pk)
    return adapters.solve_build(again, list(again.readings.all()))


def left_part(build):
    return solution_of(build).sizes["a", "length"]


def propose(build, key):
    assert CUT.fact is not None
    found = miscut(solution_of(build), CUT.fact)
    assert found is not None
    return actions.propose_way_out(
        build.readings.last(),
        found,
        by=build.student,
        kind=WayOut.Kind.LET_GIVE,
        details={"distance": key},
        unit="in",
    )


def decide(way, **more):
    by = way.build.shop_class.shop.owner
    way = WayOut.objects.select_related("build", "reading").get(pk=way.pk)
    return actions.decide_way_out(way, by=by, **{"agreed": True, **more})


def test_the_plan_decides_until_it_is_agreed(build):
    propose(build, "first")

    assert left_part(build) == inches(6)


def test_what_is_agreed_gives_in_this_build_alone(build):
    other = enrol(build.shop_class)
    log(other, CUT, "11", instrument="tape")
    decide(propose(build, "first"))

    assert left_part(build) == inches(7)
    assert left_part(other) == inches(6)
    solution = solution_of(build)
    assert solution.distances["both"] == inches(18)
    assert solution.gives_mm("first") == inches(1)


def test_a_refusal_changes_nothing(build):
    decide(propose(build, "first"), agreed=False)

    assert left_part(build) == inches(6)


def test_a_second_thought_takes_it_back(build):
    way = propose(build, "first")
    decide(way)
    decide(way, agreed=False, note="It would not fit the wall")

    assert left_part(build) == inches(6)
    assert way.decisions.count() == 2


@pytest.mark.parametrize("then", ["cut again", "set aside"])
def test_it_ends_with_the_next_reading_of_that_size(build, then):
    decide(propose(build, "first"))
    build = Build.objects.with_plan().get(pk=build.pk)
    if then == "cut again":
        log(build, CUT, "11 1/2", instrument="tape")
    else:
        rows = list(build.readings.all())
        actions.set_aside(build, rows, by=build.student, target=CUT, point=1)

    assert left_part(build) == inches(6)
    assert Build.objects.get(pk=build.pk).let_give == ""


def test_another_reading_leaves_it(build):
    decide(propose(build, "first"))
    build = Build.objects.with_plan().get(pk=build.pk)
    log(build, Target(kind="stock", key="board"), "0.74")

    assert left_part(build) == inches(7)


def test_a_plan_that_wants_no_such_distance_any_more_stands(build):
    Build.objects.filter(pk=build.pk).update(let_give="gone", let_give_for=str(CUT))

    assert left_part(build) == inches(6)


def test_the_overview_and_the_pack_see_it(build):
    now = timezone.now()

    def seen():
        shop_class = build.shop_class
        shop_class.may_sign = True
        roll = overview.roll_of(shop_class, now=now)
        plan = overview.rows_of(roll).plan_of(roll.students[0])
        rows = class_pack.rows_of(shop_class, today=now.date())
        showing = showing_named("", plan)
        digest = class_pack.digest(
            shop_class, rows, paper="a4", showing=showing, today=now.date()
        )
        return roll.token, plan.digest, digest

    before = seen()
    decide(propose(build, "first"))

    assert all(a != b for a, b in zip(before, seen(), strict=True))
