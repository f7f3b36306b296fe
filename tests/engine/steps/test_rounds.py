"""Which parts wait for which dry fit."""

from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.steps.rounds import MOST_ROUNDS, rounds_of
from tests.engine.builds import boot_bench, data, distance, part, plan
from tests.engine.steps.plans import case, random_plan


class TestRounds:
    def test_the_parts_that_fit_wait(self):
        rounds = rounds_of(case())

        assert rounds.part == {"left_side": 0, "right_side": 0, "shelf": 0, "rail": 1}
        assert rounds.distance == {"opening": 0}
        assert rounds.waits["rail"] == ("opening",)

    def test_a_size_that_depends_on_it_waits(self):
        assert rounds_of(plan(boot_bench())).waits["shelf"] == ("opening",)

    def test_a_draft_that_leaves_a_size_open_goes_by_the_parts_named(self):
        of = data(
            [part("post", "zyx"), part("plug", "xyz")],
            distances=[
                distance("gap", "post.left", "post.right",
                         measure="dry_fit", fits=["plug"])
            ],
        )  # fmt: skip

        assert rounds_of(plan(of)).part == {"post": 0, "plug": 1}

    def test_a_part_does_not_wait_for_what_is_measured_at_itself(self):
        of = data(
            [part("post", "zyx")],
            distances=[
                distance("gap", "post.left", "post.right",
                         measure="dry_fit", fits=["post"])
            ],
        )  # fmt: skip
        rounds = rounds_of(plan(of))

        assert rounds.part == {"post": 0}
        assert rounds.waits == {"post": ()}

    @settings(derandomize=True, max_examples=200, deadline=None)
    @given(st.integers(0, 10**9))
    def test_every_part_is_cut_after_what_it_waits_for(self, seed):
        read = random_plan(seed)
        rounds = rounds_of(read)

        assert rounds.part.keys() == read.part_by_key.keys()
        assert set(rounds.part.values()) == set(range(rounds.last + 1))
        assert rounds.last <= MOST_ROUNDS + 1
        for key, waits in rounds.waits.items():
            assert all(rounds.distance[d] < rounds.part[key] for d in waits)
        for d in read.distances:
            if d.dry_fit:
                ends = (d.start.part, d.end.part)
                assert rounds.distance[d.key] >= max(rounds.part[p] for p in ends)
