"""The terms of a sum add up to the size, exactly, as they are printed."""

from fractions import Fraction

import pytest

from projects.engine.errors import EngineError
from projects.engine.fit.many import all_sizes, table
from projects.engine.report import as_data, length_data
from projects.engine.units import read_length
from tests.engine.builds import boot_bench, solved
from tests.engine.random_plans import random_build


def builds():
    """Return the random builds that solve."""
    found = []
    for seed in range(300, 360):
        try:
            found.append(solved(*random_build(seed)))
        except EngineError:
            continue
    return found


BUILDS = builds()


def total_mm(because):
    """Add up printed terms."""
    return sum(Fraction(c) * read_length(value).mm for c, _, value in because)


def test_most_random_plans_solve():
    assert len(BUILDS) > 40


@pytest.mark.parametrize("build", BUILDS, ids=range(len(BUILDS)))
class TestRandom:
    def test_printed_terms_add_up_exactly(self, build):
        printed = as_data(build)["parts"]
        for (part, dimension), mm in build.sizes.items():
            because = printed[part][dimension]["because"]

            assert total_mm(because) == mm
            assert length_data(mm)["mm"] == printed[part][dimension]["mm"]

    def test_each_term_comes_once_and_counts(self, build):
        for size in build.sizes:
            terms = build.terms(build.form(size))

            assert len({term.item for term in terms}) == len(terms)
            assert all(term.coefficient for term in terms)

    def test_the_class_table_says_the_same(self, build):
        rows = table(build.system)
        (sizes,) = all_sizes(rows, [build.readings])

        assert {s: sizes.mm(n) for n, s in enumerate(rows.sizes)} == build.sizes

    def test_positions_say_the_same(self, build):
        at = {f: form.value(build.values) for f, form in build.system.positions.items()}
        cut = {(fact.key, fact.dimension) for fact in build.readings.facts}
        for part in build.plan.parts:
            for dimension, axis in part.axes.items():
                low, high = part.faces_on(axis)
                size = (part.key, dimension)

                assert size in cut or at[high] - at[low] == build.sizes[size]


def test_the_shelf_in_words():
    readings = {"stock": {"board": ["0.742", "0.744", "0.741"]}}
    shelf = as_data(solved(boot_bench(), readings))["parts"]["shelf"]

    assert sorted(shelf["length"]["because"]) == sorted([
        ["+1", "Overall width", "36 in"],
        ["-1", "Left side thickness", "2227/3000 in"],
        ["-1/2", "Right side thickness", "2227/3000 in"],
        ["+1", "Shelf in Left side, depth", "3/8 in"],
    ])  # fmt: skip


def test_many_students_each_have_their_own_sizes():
    boards = [["0.742"], ["0.75", "0.76"], ["0.7", "0.71", "0.73"]]
    class_of = [solved(boot_bench(), {"stock": {"board": b}}) for b in boards]
    rows = table(class_of[0].system)
    found = all_sizes(rows, [build.readings for build in class_of])

    for build, sizes in zip(class_of, found, strict=True):
        assert {s: sizes.mm(n) for n, s in enumerate(rows.sizes)} == build.sizes
