"""What a build has done, what is open, and what is blocked by what."""

import json
from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Readings, read_readings
from projects.engine.plan.steps import OtherWay
from projects.engine.steps import propose
from projects.engine.steps.standing import Way, course_of, in_hand, step_standings
from tests.engine.steps.plans import case, demo
from tests.engine.steps.standings import EVERY_KIND, blocks, chosen_of, stand, step


class TestStepsBefore:
    def test_a_step_waits_for_earlier_ones_that_share_a_part(self):
        found = stand(
            step("rip", "shelf"), step("plane", "left_side"), step("crosscut", "shelf")
        )

        assert blocks(found["crosscut"]) == [("step", ("rip",))]
        assert found["plane"].is_open

    def test_a_step_that_names_no_part_is_about_all_of_them(self):
        found = stand(step("rough"), step("rip", "shelf"), step("sand"))

        assert blocks(found["rip"]) == [("step", ("rough",))]
        assert blocks(found["sand"]) == [("step", ("rough", "rip"))]

    def test_what_is_done_blocks_nothing_and_is_not_blocked_itself(self):
        found = stand(
            step("rip", "shelf"), step("crosscut", "shelf"), done={"rip", "gone"}
        )

        assert found["rip"].is_done
        assert not found["rip"].is_open
        assert found["crosscut"].can_be_ticked

    def test_one_moved_back_leaves_later_ones_done_without_a_block(self):
        found = stand(
            step("rip", "shelf"), step("crosscut", "shelf"), done={"crosscut"}
        )

        assert found["crosscut"].is_done
        assert not found["crosscut"].blocks
        assert found["rip"].is_open

    def test_after_names_those_that_wait(self):
        steps = (step("rip", "shelf"), step("plane", "rail"), step("sand"))

        assert [s.key for s in course_of(case(), steps).after("rip")] == ["sand"]


class TestWays:
    def at(self, machine, *others, **more):
        ways = tuple(OtherWay(machine=other) for other in others)
        made = step("rip", "shelf", machine=machine, other_ways=ways)
        return stand(made, **more)["rip"]

    def test_the_bench_needs_no_sign_off(self):
        assert self.at("none", signed=(), listed=()).can_be_ticked

    def test_a_listed_machine_without_a_sign_off_blocks(self):
        found = self.at("table_saw", signed=())

        assert blocks(found) == [("sign_off", ("table_saw",))]
        assert not found.can_be_ticked

    def test_a_sign_off_opens_it(self):
        assert self.at("table_saw", signed={"table_saw"}).can_be_ticked

    def test_another_way_opens_it_and_the_first_says_why_not(self):
        found = self.at("table_saw", "band_saw", "hand_tools", signed={"hand_tools"})

        assert [way.state for way in found.ways] == ["not_signed", "not_here", "open"]
        assert found.open_ways == (Way(machine="hand_tools", note="", state="open"),)
        assert found.can_be_ticked

    def test_a_shop_without_any_of_the_machines_blocks(self):
        found = self.at("table_saw", "band_saw", listed=(), signed=())

        assert blocks(found) == [("no_machine", ("table_saw", "band_saw"))]

    def test_only_machines_that_are_here_ask_for_a_sign_off(self):
        found = self.at("table_saw", "band_saw", listed={"band_saw"}, signed=())

        assert blocks(found) == [("sign_off", ("band_saw",))]

    def test_hand_tools_need_a_sign_off_only_where_they_are_listed(self):
        assert self.at("hand_tools", listed=(), signed=()).can_be_ticked
        assert not self.at("hand_tools", listed={"hand_tools"}, signed=()).is_open

    def test_a_sign_off_for_a_machine_the_shop_has_no_more_opens_nothing(self):
        found = self.at("table_saw", listed=(), signed={"table_saw"})

        assert blocks(found) == [("no_machine", ("table_saw",))]


class TestInHand:
    def test_it_is_the_first_that_is_open(self):
        found = stand(
            step("rip", "shelf", machine="table_saw"),
            step("crosscut", "shelf"),
            step("plane", "rail", stage="mill"),
            step("sand", "left_side"),
            signed=(),
        )

        assert chosen_of(found.values()).step.key == "sand"

    def test_where_none_is_open_it_is_the_first_that_is_left(self):
        found = stand(
            step("rough"),
            step("rip", "shelf", machine="table_saw"),
            step("crosscut", "shelf"),
            signed=(),
            done={"rough"},
        )

        assert chosen_of(found.values()).step.key == "rip"

    def test_where_all_is_done_there_is_none(self):
        assert in_hand(stand(step("rough"), done={"rough"}).values()) is None

    def test_no_more_is_looked_at_than_is_needed(self):
        standings = iter(stand(step("rough"), step("rip", "shelf")).values())

        assert chosen_of(standings).step.key == "rough"
        assert next(standings).step.key == "rip"


class TestWholeBuilds:
    plan = demo("hall_boot_bench")

    @given(st.lists(st.integers(0, 22), unique=True))
    def test_whatever_is_done_a_step_of_the_rest_is_in_hand(self, numbers):
        steps = propose(self.plan)
        done = {steps[n].key for n in numbers}
        solution = solve(self.plan, Readings())
        found = tuple(
            step_standings(
                solution,
                course_of(self.plan, steps),
                done=done,
                listed=EVERY_KIND,
                signed=EVERY_KIND,
            )
        )
        chosen = in_hand(found)

        assert (chosen is None) == (done == {s.key for s in steps})
        assert chosen is None or chosen.step.key not in done

    def test_ticked_in_order_and_logged_on_the_way_every_step_gets_its_turn(self):
        steps = propose(self.plan)
        course = course_of(self.plan, steps)
        readings: dict[str, Any] = {"stock": {}, "distances": {}}
        done: list[str] = []
        while len(done) < len(steps):
            solution = solve(self.plan, read_readings(json.dumps(readings), self.plan))
            chosen = chosen_of(
                step_standings(
                    solution, course, done=done, listed=EVERY_KIND, signed=EVERY_KIND
                )
            )
            assert chosen.is_open
            for key in chosen.to_log:
                if key.startswith("stock:"):
                    stock = self.plan.stock_by_key[key.removeprefix("stock:")]
                    mm = f"{float(stock.thickness.mm)} mm"
                    readings["stock"][stock.key] = [mm]
                else:
                    readings["distances"][key] = "34 1/2"
            if chosen.can_be_ticked:
                done.append(chosen.step.key)

        assert done == [s.key for s in steps]

    def test_the_same_parts_and_order_make_the_same_course(self):
        steps = propose(self.plan)
        titled = tuple(replace(one, title="Another") for one in steps)

        assert course_of(self.plan, steps).first == course_of(self.plan, titled).first
