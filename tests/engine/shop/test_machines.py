"""Machine kinds and their cautions, each with a source that was looked up."""

import re

import pytest

from projects.engine.joints import KINDS
from projects.engine.shop.cautions import CAUTIONS, cautions
from projects.engine.shop.machines import MACHINES, NO_MACHINE

CITED = re.compile(r"29 CFR 19\d\d\.\d+")


class TestMachines:
    def test_the_kinds_a_plan_file_knows(self):
        assert list(MACHINES) == [
            "jointer", "planer", "table_saw", "mitre_saw", "band_saw", "router",
            "router_table", "drill_press", "mortiser", "sander", "hand_tools", "none",
        ]  # fmt: skip

    @pytest.mark.parametrize("kind", MACHINES.values(), ids=MACHINES)
    def test_every_one_but_the_bench_has_a_caution(self, kind):
        assert set(kind.cautions) <= CAUTIONS.keys()
        assert bool(kind.cautions) is (kind.key != NO_MACHINE)


class TestCautions:
    @pytest.mark.parametrize("key", CAUTIONS)
    def test_it_is_short_and_has_a_source(self, key):
        caution = CAUTIONS[key]

        assert len(caution.text) <= 250
        assert CITED.search(caution.source) or "no source" in caution.source

    def test_nothing_is_called_safe(self):
        assert not [c.text for c in CAUTIONS.values() if "safe" in c.text.lower()]

    def test_joints_name_only_known_ones(self):
        assert {key for kind in KINDS.values() for key in kind.cautions} <= set(
            CAUTIONS
        )

    def test_each_is_said_once(self):
        said = cautions(["dust", "eyes", "dust"])

        assert said[1:] == (CAUTIONS["eyes"], CAUTIONS["dust"])
