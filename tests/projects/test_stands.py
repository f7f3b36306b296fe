"""Where a build stands, and that it is worked out once for the same facts."""

from fractions import Fraction

import pytest

from projects import adapters
from projects.engine.plan.reader import read_plan
from projects.stands import Said, stand_of
from tests.factories import plan_bytes

NOBODY: frozenset[str] = frozenset()


@pytest.fixture
def plan():
    """Read the boot bench."""
    return read_plan(plan_bytes().decode())


def stock(mm="19"):
    return tuple(
        Said(target=f"stock:{key}", point=1, mm=Fraction(mm), unit="mm", instrument="x")
        for key in ("poplar34", "ply14")
    )


def stand(plan, readings=(), done=(), listed=NOBODY, signed=NOBODY):
    return stand_of(plan, readings, done=frozenset(done), listed=listed, signed=signed)


def first_keys(plan, count):
    return [step.key for step in adapters.steps_of(plan)[:count]]


class TestStandOf:
    def test_a_new_build_stands_at_the_first_step(self, plan):
        found = stand(plan)

        assert found.in_hand == found.first
        assert (found.in_hand.number, found.done, found.steps) == (1, 0, 23)

    def test_a_step_that_is_done_is_counted(self, plan):
        found = stand(plan, stock(), done=first_keys(plan, 4))

        assert (found.in_hand.number, found.done) == (5, 4)

    def test_marks_of_steps_that_the_plan_no_longer_has_count_for_nothing(self, plan):
        assert stand(plan, done=["polish_the_brass"]).done == 0

    def test_all_done_leaves_nothing_in_hand(self, plan):
        found = stand(plan, stock(), done=first_keys(plan, 23))

        assert found.in_hand is None
        assert found.first is None

    def test_what_cannot_be_built_is_said(self, plan):
        found = stand(plan, stock("900"))

        assert found.is_broken
        assert found.in_hand is None

    def test_the_same_facts_are_worked_out_once(self, plan):
        assert stand(plan, stock()) is stand(plan, stock())

    def test_another_reading_is_another_stand(self, plan):
        assert stand(plan, stock("19")) is not stand(plan, stock("18"))


class TestPlace:
    def test_its_way_is_the_first_that_the_shop_has(self, plan):
        found = stand(plan, listed=frozenset({"table_saw", "hand_tools"}))

        assert found.in_hand.way.machine == "table_saw"
        assert found.in_hand.lacks_sign_off

    def test_signed_off_there_nothing_is_lacking(self, plan):
        saw = frozenset({"table_saw"})

        assert not stand(plan, listed=saw, signed=saw).in_hand.lacks_sign_off
