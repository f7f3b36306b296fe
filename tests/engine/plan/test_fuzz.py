"""A good plan with something random somewhere: refused in words, or read."""

import copy
import json
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.errors import EngineError, ProblemsError
from projects.engine.fit.solve import check_plan, solve
from projects.engine.plan.reader import read_plan
from projects.engine.plan.readings import read_readings
from projects.engine.report import as_data, as_text
from tests.engine.builds import boot_bench, plan
from tests.engine.random_plans import random_build

WORDS = ["shelf", "shelf.left", "left_side.right", "left_side.top", "dado", "tenon",
         "x", "z", "in", "3/4", "0.5", "-1", "1/0", "{where}", "{", "}", "%s", "\n",
         "dry_fit", "plan", "board", "half_lap", "19 mm", ""]  # fmt: skip
leaves = st.one_of(
    st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8),
    st.sampled_from(WORDS),
)  # fmt: skip
values = st.recursive(
    leaves,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.one_of(st.text(max_size=5), st.sampled_from(WORDS)), inner,
                        max_size=3),
    ),
    max_leaves=5,
)  # fmt: skip


def paths(value, path=()):
    """Yield the path of everything in a JSON value."""
    yield path
    steps = range(len(value)) if isinstance(value, list) else ()
    for step in value if isinstance(value, dict) else steps:
        yield from paths(value[step], (*path, step))


def changed(whole, path, value, how):
    """Return a copy with the entry at `path` replaced, removed or added to."""
    if not path:
        return value
    made = copy.deepcopy(whole)
    target = made
    for step in path[:-1]:
        target = target[step]
    last = path[-1]
    if how == "remove":
        del target[last]
    elif how == "add" and isinstance(target, dict):
        target[str(value)[:10]] = value
    elif how == "add":
        target.insert(last, value)
    else:
        target[last] = value
    return made


def lines_of(work):
    """Do it; return the lines of the error it ends with, one a fault."""
    try:
        work()
    except EngineError as error:
        lines = str(error).split("\n")
        faults = error.errors if isinstance(error, ProblemsError) else (error,)
    else:
        return []
    assert len(lines) == len(faults)
    assert all(len(line.splitlines()) == 1 for line in lines)
    return lines


BENCH = boot_bench()
BENCH["joints"][0]["stops"] = [{"at": "front", "by": "1/2"}]
BENCH["joints"][1] |= {"kind": "tenon", "tenon": {"thickness": "1/4"}}
BENCH["even"] = [[["left_side.front", "shelf.back"], ["left_side.front", "shelf.back"]]]
BENCH["distances"][4]["fits"] = ["shelf"]
READINGS = {
    "stock": {"board": ["0.742", 0.744]},
    "parts": {"shelf": {"thickness": ["0.738"]}},
    "distances": {"opening": "34 17/32"},
    "cut": {"shelf.length": "35 1/4"},
}
PLACES = ("plan", "format", "version", "title", "units", "tape", "stock", "parts",
          "part ", "joints", "joint ", "distances", "distance ", "flush", "even",
          "the plan contradicts itself", "readings")  # fmt: skip
changes = st.lists(
    st.tuples(st.integers(0, 10**6), values, st.sampled_from(["put", "add", "remove"])),
    min_size=1, max_size=3,
)  # fmt: skip


def with_changes(whole, made):
    for at, value, how in made:
        every = list(paths(whole))
        whole = changed(whole, every[at % len(every)], value, how)
    return json.dumps(whole)


class TestPlans:
    @settings(derandomize=True, max_examples=600, deadline=None)
    @given(changes)
    def test_nothing_but_an_engine_error_comes_out(self, made):
        def work():
            solution = check_plan(read_plan(with_changes(BENCH, made)))
            assert json.dumps(as_data(solution))
            assert as_text(solution)

        assert [line for line in lines_of(work) if not line.startswith(PLACES)] == []

    @pytest.mark.parametrize("seed", range(40))
    def test_a_random_plan_with_parts_of_it_swapped(self, seed):
        """Swap values within a plan: everything is well formed, nothing fits."""
        source = random.Random(seed)
        whole, _ = random_build(seed)
        for _ in range(4):
            one, other = source.sample([p for p in paths(whole) if p], 2)
            value = whole
            for step in one:
                value = value[step]
            whole = changed(whole, other, copy.deepcopy(value), "put")
        lines = lines_of(lambda: check_plan(read_plan(json.dumps(whole))))

        assert [line for line in lines if not line.startswith(PLACES)] == []

    @settings(derandomize=True, max_examples=300, deadline=None)
    @given(st.one_of(st.text(max_size=60), st.binary(max_size=60)))
    def test_random_text_neither(self, text):
        with pytest.raises(EngineError, match=r"^plan: "):
            read_plan(text)


class TestReadings:
    @settings(derandomize=True, max_examples=300, deadline=None)
    @given(changes)
    def test_nothing_but_an_engine_error_comes_out(self, made):
        read = plan(BENCH)

        def work():
            solution = solve(read, read_readings(with_changes(READINGS, made), read))
            assert json.dumps(as_data(solution))

        assert [line for line in lines_of(work) if not line.startswith(PLACES)] == []
