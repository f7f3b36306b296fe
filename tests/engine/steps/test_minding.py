"""The cautions of a step."""

from projects.engine.plan.steps import Step
from projects.engine.shop.cautions import CAUTIONS, FIRST
from projects.engine.steps import cautions_of


class TestCautionsOf:
    def test_the_machines_come_before_the_steps_own_and_the_authors_words(self):
        step = Step(
            key="dado",
            title="Cut the dado",
            stage="joinery",
            machine="table_saw",
            cautions=("Mind the cord.", "slot_at_saw", "table_saw"),
        )
        said = cautions_of(step)

        assert said[:4] == (
            FIRST,
            CAUTIONS["eyes"],
            CAUTIONS["table_saw"],
            CAUTIONS["slot_at_saw"],
        )
        assert [(c.text, c.source) for c in said[4:]] == [
            ("Mind the cord.", "the plan's author")
        ]

    def test_the_bench_has_only_those_that_stand_everywhere(self):
        step = Step(key="fit", title="Dry fit", stage="dry_fit")

        assert cautions_of(step) == (FIRST, CAUTIONS["eyes"])
