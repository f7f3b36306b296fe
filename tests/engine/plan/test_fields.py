"""Fields nobody knows, missing or given twice, and plans beyond the limits."""

import copy
import json

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.solve import check_plan
from projects.engine.plan.reader import read_plan
from tests.engine.builds import boot_bench, data, distance, joint, part, plan


def broken(place, value):
    """Return the boot bench with one value replaced; `place` is its path."""
    whole = boot_bench()
    *path, last = place
    target = whole
    for step in path:
        target = target[step]
    target[last] = value
    return whole


def refusal(of):
    """Return the error that a plan is refused with."""
    with pytest.raises(EngineError) as refused:
        plan(of)
    return str(refused.value)


class TestFields:
    @pytest.mark.parametrize(
        ("path", "place"),
        [
            ([], "plan: "),
            (["stock", 0], "stock[0]: "),
            (["parts", 2], "parts[2]: "),
            (["joints", 1], "joints[1]: "),
            (["distances", 3], "distances[3]: "),
        ],
    )
    def test_an_unknown_field_is_refused_by_name(self, path, place):
        said = refusal(broken([*path, "colour"], "red"))

        assert said == f"{place}unknown field 'colour'"

    @pytest.mark.parametrize(
        ("path", "place"),
        [
            (["title"], "plan: "),
            (["format"], "plan: "),
            (["version"], "plan: "),
            (["units"], "plan: "),
            (["parts", 0, "key"], "parts[0]: "),
            (["parts", 0, "stock"], "parts[0]: "),
            (["parts", 0, "width"], "parts[0]: "),
            (["stock", 0, "thickness"], "stock[0]: "),
            (["joints", 0, "kind"], "joints[0]: "),
            (["joints", 0, "guest"], "joints[0]: "),
            (["joints", 0, "depth"], "joints[0]: "),
            (["distances", 0, "key"], "distances[0]: "),
            (["distances", 0, "to"], "distances[0]: "),
        ],
    )
    def test_a_missing_field_is_named(self, path, place):
        whole = boot_bench()
        *above, last = path
        target = whole
        for step in above:
            target = target[step]
        del target[last]

        assert f"{place}the field {last} is missing" in refusal(whole)

    @pytest.mark.parametrize(
        ("once", "twice", "place"),
        [
            ('"units": "in"', '"units": "in", "units": "mm"', "plan: "),
            ('"key": "board"', '"key": "board", "key": "board"', "stock[0]: "),
            ('"key": "shelf"', '"key": "shelf", "key": "shelf"', "parts[2]: "),
            ('"kind": "dado"', '"kind": "dado", "kind": "dado"', "joints[0]: "),
            ('"held": 1', '"held": 1, "held": 2', "distances[0]: "),
        ],
    )
    def test_a_field_given_twice_is_refused(self, once, twice, place):
        text = json.dumps(boot_bench()).replace(once, twice, 1)

        with pytest.raises(EngineError) as refused:
            read_plan(text)
        assert f"{place}the field" in str(refused.value)
        assert "twice" in str(refused.value)

    def test_a_share_given_twice_is_refused(self):
        text = json.dumps(boot_bench())
        text = text.replace('"of_thickness"', '"of_thickness": "1/3", "of_thickness"')

        with pytest.raises(EngineError, match=r"joints\[1\].depth"):
            read_plan(text)

    @pytest.mark.parametrize("name", ["stock", "parts", "joints", "distances"])
    def test_a_key_used_twice_in_one_list_is_refused(self, name):
        whole = boot_bench()
        whole[name].append(copy.deepcopy(whole[name][0]))
        at = len(whole[name]) - 1

        assert f"{name}[{at}].key: " in refusal(whole)

    @pytest.mark.parametrize("kind", ["butt", "dowel"])
    def test_a_joint_that_has_no_depth_refuses_one(self, kind):
        assert "joints[0]" in refusal(broken(["joints", 0, "kind"], kind))

    def test_stops_belong_to_a_dado_only(self):
        whole = broken(["joints", 0, "stops"], [{"at": "front", "by": "1/2"}])
        whole["joints"][0]["kind"] = "groove"

        assert refusal(whole) == "joints[0]: unknown field 'stops'"


class TestLimits:
    @pytest.mark.parametrize(
        ("name", "most"),
        [("stock", 50), ("parts", 200), ("joints", 600), ("distances", 400)],
    )
    def test_a_list_that_is_too_long_is_refused(self, name, most):
        whole = boot_bench()
        entry = whole[name][0]
        whole[name] = [{**entry, "key": f"k{n}"} for n in range(most + 1)]

        assert f"{name} can hold at most {most}" in refusal(whole)

    def test_too_many_faces(self):
        parts = [part(f"p{n}", "xyz") for n in range(100)]
        faces = [f"p{n}.left" for n in range(100)]

        assert "2000" in refusal(data(parts, flush=[faces] * 21))

    def test_no_parts(self):
        assert "at least one part" in refusal(data([]))

    def test_200_loose_parts_are_refused_at_once(self):
        """Each free size is told, without looking through all faces for each."""
        read = plan(data([part(f"p{n}", "xyz") for n in range(200)]))

        with pytest.raises(EngineError, match="nothing fixes its length on x"):
            check_plan(read)

    def test_a_tangle_is_refused_before_it_keeps_the_server_busy(self):
        count = 200

        def name(n, face):
            return f"p{n % count}.{face}"

        joints = [
            joint(f"j{n}", "dado", name(n, "left"), name(n * 7 + 1, "right"),
                  depth={"of_thickness": f"{1 + n * 37 % 4000}/{4001 + n * 53 % 5000}"})
            for n in range(600) if (n - n * 7 - 1) % count
        ]  # fmt: skip
        wide = [[name(n, "left"), name(n * 11 + 5, "right")] for n in range(900)]
        even = [wide[n : n + 9] for n in range(0, 900, 9)]
        want = [distance(f"d{n}", name(n, "left"), name(n * 3, "right"), "20")
                for n in range(400)]  # fmt: skip
        parts = [part(f"p{n}", "xyz") for n in range(count)]
        read = plan(data(parts, joints=joints, even=even, distances=want))

        with pytest.raises(EngineError):
            check_plan(read)
