"""The steps of a plan file: what is read, what is refused and where."""

import json

import pytest
from hypothesis import given, settings

from projects.engine.errors import EngineError
from projects.engine.plan.reader import read_plan
from projects.engine.plan.steps import OtherWay, Step, step_data
from projects.engine.steps import order_faults, propose
from tests.engine.builds import boot_bench, plan
from tests.engine.plan.test_fuzz import PLACES, changes, lines_of, with_changes

DADOES = {
    "key": "cut_dadoes",
    "title": "Cut the shelf dadoes",
    "stage": "joinery",
    "machine": "table_saw",
    "other_ways": [{"machine": "router", "note": "Against a straight edge."}],
    "parts": ["left_side"],
    "joints": ["shelf_left"],
    "measured_first": ["opening", "stock:board"],
    "cautions": ["slot_at_saw", "Mind the cord on the floor."],
    "note": "First line.\n\nThird  line.",
    "picture": "dado.jpg",
}


def with_steps(*steps):
    return {**boot_bench(), "steps": list(steps)}


def changed(**fields):
    """Return the bench with the dado step, some fields of it replaced."""
    return with_steps({**DADOES, **fields})


def refusal(of):
    with pytest.raises(EngineError) as refused:
        plan(of)
    return str(refused.value)


class TestGoodSteps:
    def test_every_field_is_read(self):
        assert plan(with_steps(DADOES)).steps == (
            Step(
                key="cut_dadoes",
                title="Cut the shelf dadoes",
                stage="joinery",
                machine="table_saw",
                other_ways=(
                    OtherWay(machine="router", note="Against a straight edge."),
                ),
                parts=("left_side",),
                joints=("shelf_left",),
                measured_first=("opening", "stock:board"),
                cautions=("slot_at_saw", "Mind the cord on the floor."),
                note="First line.\n\nThird line.",
                picture="dado.jpg",
            ),
        )

    def test_key_title_and_stage_are_enough(self):
        least = {"key": "oil", "title": "Oil it", "stage": "finish"}

        (step,) = plan(with_steps(least)).steps

        assert step == Step(key="oil", title="Oil it", stage="finish")
        assert step.machine == "none"
        assert step_data(step) == least

    def test_a_plan_without_steps_has_none(self):
        assert plan(boot_bench()).steps == ()

    def test_the_order_is_the_files(self):
        steps = [{"key": k, "title": k, "stage": "mill"} for k in ("b", "a", "c")]

        assert [step.key for step in plan(with_steps(*steps)).steps] == ["b", "a", "c"]

    def test_written_and_read_again_it_is_the_same(self):
        (step,) = plan(changed(measures=["stock:board"], measured_first=[])).steps

        (again,) = plan(with_steps(step_data(step))).steps

        assert again == step


class TestRefusals:
    @pytest.mark.parametrize(
        ("fields", "complaint"),
        [
            ({"tool": "saw"}, "steps[0]: unknown field 'tool'"),
            ({"key": "Cut"}, "steps[0].key: a key is"),
            ({"title": ""}, "steps[0].title: expected 1 to 80 characters"),
            ({"stage": "glueing"}, "steps[0].stage: expected one of mill, joinery"),
            ({"machine": "lathe"}, "steps[0].machine: expected one of jointer"),
            ({"parts": ["shelve"]}, "steps[0].parts[0]: there is no part 'shelve'"),
            ({"parts": "shelf"}, "steps[0]: parts must be a list"),
            ({"parts": [1]}, "steps[0].parts[0]: there is no part 1"),
            ({"joints": ["shelf"]}, "steps[0].joints[0]: there is no joint 'shelf'"),
            (
                {"measured_first": ["height"]},
                "steps[0].measured_first[0]: there is no distance or stock 'height'",
            ),
            (
                {"measured_first": ["board"]},
                "steps[0].measured_first[0]: there is no distance or stock 'board'",
            ),
            (
                {"measures": ["stock:oak"]},
                "steps[0].measures[0]: there is no distance or stock 'stock:oak'",
            ),
            (
                {"measures": ["opening"]},
                "steps[0]: opening can't be measured both before and in this step",
            ),
            (
                {"joints": ["shelf_left", "shelf_left"]},
                "steps[0].joints[1]: 'shelf_left' stands here twice",
            ),
            (
                {"cautions": ["slot_at_sore"]},
                "steps[0].cautions[0]: there is no caution 'slot_at_sore'",
            ),
            (
                {"cautions": ["Mind " + "x" * 300]},
                "steps[0].cautions[0]: expected 1 to 300 characters",
            ),
            (
                {"other_ways": [{"note": "By hand."}]},
                "steps[0].other_ways[0]: the field machine is missing",
            ),
            (
                {"other_ways": [{"machine": "router", "bit": "1/4"}]},
                "steps[0].other_ways[0]: unknown field 'bit'",
            ),
            (
                {"other_ways": [{"machine": "table_saw"}]},
                "steps[0].other_ways[0]: the machine table_saw stands here twice",
            ),
            (
                {"other_ways": [{"machine": "router"}, {"machine": "router"}]},
                "steps[0].other_ways[1]: the machine router stands here twice",
            ),
            (
                {"note": "x" * 2001},
                "steps[0].note: expected at most 2000 characters (read: 2001)",
            ),
            ({"note": "a\x00b"}, "steps[0].note: the text holds a sign"),
            ({"note": 3}, "steps[0].note: expected a text (read: 3)"),
        ],
    )
    def test_a_wrong_field_is_refused_with_its_place(self, fields, complaint):
        assert refusal(changed(**fields)).startswith(complaint)

    @pytest.mark.parametrize(
        "name",
        ["../dado.jpg", "pictures/dado.jpg", "a\\b.jpg", "dado", ".jpg", "dado.svg",
         "a..jpg", "C:dado.jpg", "dado.jpg\n", "x" * 80 + ".jpg", 7, ["dado.jpg"],
         "dado.JPG", "café.jpg", ""],
    )  # fmt: skip
    def test_a_picture_is_a_plain_file_name(self, name):
        assert refusal(changed(picture=name)).startswith(
            "steps[0].picture: expected the plain name of a picture"
        )

    @pytest.mark.parametrize("name", ["dado.jpg", "2.jpeg", "a_b-c.1.png", "x.webp"])
    def test_a_plain_name_is_taken(self, name):
        assert plan(changed(picture=name)).steps[0].picture == name

    @pytest.mark.parametrize("field", ["key", "title", "stage"])
    def test_a_missing_field_is_named(self, field):
        step = {name: value for name, value in DADOES.items() if name != field}

        assert refusal(with_steps(step)) == f"steps[0]: the field {field} is missing"

    def test_a_key_that_comes_twice(self):
        assert refusal(with_steps(DADOES, DADOES)) == (
            "steps[1].key: cut_dadoes is already used in steps"
        )

    def test_a_field_that_comes_twice(self):
        text = json.dumps(with_steps(DADOES))
        text = text.replace('"stage": "joinery"', '"stage": "mill", "stage": "joinery"')

        with pytest.raises(EngineError, match=r"steps\[0\]: the field 'stage' stands"):
            read_plan(text)

    def test_more_than_200_steps(self):
        steps = [{"key": f"s{n}", "title": "Sand", "stage": "mill"} for n in range(201)]

        assert len(plan(with_steps(*steps[:200])).steps) == 200
        assert "steps can hold at most 200 entries" in refusal(with_steps(*steps))

    @pytest.mark.parametrize("steps", [None, "cut", {"key": "a"}, 3])
    def test_steps_are_a_list(self, steps):
        assert "steps must be a list" in refusal({**boot_bench(), "steps": steps})

    @pytest.mark.parametrize("step", [None, "cut", [], 3])
    def test_a_step_is_an_object(self, step):
        assert refusal(with_steps(step)).startswith("steps[0]: expected an object")

    def test_a_wrong_joint_is_not_told_again_by_the_step_that_names_it(self):
        whole = with_steps(DADOES)
        whole["joints"][0]["depth"] = "deep"

        assert "steps" not in refusal(whole)


class TestAnything:
    @settings(derandomize=True, max_examples=400, deadline=None)
    @given(changes)
    def test_nothing_but_an_engine_error_comes_out(self, made):
        whole = with_steps(DADOES, {**DADOES, "key": "again"})

        def work():
            read = read_plan(with_changes(whole, made))
            assert order_faults(read, propose(read)) == ()
            for fault in order_faults(read, read.steps):
                assert fault.what

        places = (*PLACES, "steps")
        assert [line for line in lines_of(work) if not line.startswith(places)] == []
