"""What holds for all checks: keys, acceptance, random plans, and the demo's plans."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects import demo
from projects.engine.checks import CHECKS, Limit, ShopLimits, check
from projects.engine.errors import EngineError
from projects.engine.fit.solve import check_plan
from projects.engine.plan.reader import read_plan
from tests.engine.builds import boot_bench, solved
from tests.engine.checks.pieces import case, frame
from tests.engine.random_plans import random_build

STRICT = ShopLimits(
    slot_share=Limit(value=Fraction(1, 100)),
    web_share=Limit(value=Fraction(1)),
    lip_mm=Limit(value=Fraction(500)),
    held_mm=Limit(value=Fraction(1, 1000)),
    tight_mm=Limit(value=Fraction(1, 1000)),
    sag_share=Limit(value=Fraction(1, 10**9)),
)
"""Limits that nearly everything breaks."""

SPECIES = ("red oak", "yellow-poplar", "hickory", "sassafras", "western redcedar")
"""Two with all figures, then one with none, with movement, and with stiffness."""


def keys(solution, shop=None):
    return [finding.key for finding in check(solution, shop)]


def demo_keys(name):
    return keys(check_plan(read_plan((demo.PLANS / f"{name}.json").read_bytes())))


class TestKeys:
    def test_no_numbers_change_them(self):
        assert keys(case(depth="1/2")) == keys(case(depth="5/8", height="9"))

    def test_each_is_there_once_and_starts_with_its_check(self):
        found = check(case(depth="1/2", width="20"), STRICT)

        assert len({f.key for f in found}) == len(found) > 4
        assert all(f.key.startswith(f"{f.check}/") for f in found)
        assert {f.check for f in found} <= CHECKS.keys()

    def test_an_unknown_stock_is_told_once_for_many_parts(self):
        found = [k for k in keys(frame(width="12", kind="dado", species="oak"))
                 if k.startswith("across_grain/")]  # fmt: skip

        assert found == ["across_grain/stock:board"]


class TestAccepted:
    def test_an_accepted_finding_is_marked(self):
        of = case(depth="1/2")
        found = check(of, accepted=["slot_depth/joint:shelf_left", "gone"])

        assert [f.key for f in found if f.accepted] == ["slot_depth/joint:shelf_left"]
        assert len(found) == len(check(of))

    def test_it_stays_accepted_while_the_plan_changes(self):
        accepted = {"slot_depth/joint:shelf_left"}
        found = check(case(depth="5/8", span="30", height="9"), accepted=accepted)

        assert accepted == {f.key for f in found if f.accepted}


class TestRandomPlans:
    @settings(max_examples=60)
    @given(st.integers(0, 10**6), st.sampled_from([None, STRICT]))
    def test_every_finding_can_be_read(self, seed, shop):
        try:
            plan, readings = random_build(seed)
            for n, stock in enumerate(plan["stock"]):
                stock["species"] = SPECIES[(seed + n) % len(SPECIES)]
            build = solved(plan, readings)
        except EngineError:
            return  # not every random plan can be solved
        found = check(build, shop)

        assert len({f.key for f in found}) == len(found)
        for finding in found:
            assert str(finding.what)
            assert str(finding.why)
            assert finding.source
            assert finding.where
        assert found == check(build, shop)

    def test_strict_limits_find_more(self):
        build = solved(boot_bench())

        assert len(check(build, STRICT)) > len(check(build))


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("hall_boot_bench", []),
        (
            "step_stool",
            [
                "machine_size/part:left_front_leg+part:right_front_leg/length",
                "machine_size/part:left_back_leg+part:right_back_leg/length",
                "machine_size/part:left_top_rail+part:right_top_rail/length",
                "machine_size/part:left_low_rail+part:right_low_rail/length",
                "across_grain/joint:top_left+part:top",
                "across_grain/joint:top_right+part:top",
            ],
        ),
        (
            "tool_tray",
            [
                "machine_size/part:left_end/length",
                "machine_size/part:right_end/length",
            ],
        ),
    ],
)
def test_the_demo_plans(name, expected):
    """Short parts, and a top 10 in wide that lies along 9 in of two rails: 0.104 in."""
    assert demo_keys(name) == expected
