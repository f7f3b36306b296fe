"""A miscut and its ways out, on a case of two sides, a shelf and a rail.

By hand, in inches: the case is 36 wide, its sides 3/4 thick, shelf and rail sit 3/8
deep in each side. So the shelf is 36 - 3/4 - 3/4 + 3/8 + 3/8 = 35 1/4 long, the rail
the same. A shelf of 35 makes the case 35 3/4 wide, and the rail 35 long.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projects.engine.errors import EngineError
from projects.engine.fit.miscut import given_first, miscut, miscuts, off_by_mm
from projects.engine.fit.solve import solve
from projects.engine.plan.readings import Fact
from tests.engine.builds import data, distance, inches, joint, part, size, solved

PARTS = [
    part("left", "zyx", pair="right"),
    part("right", "zyx", pair="left"),
    part("shelf", "xyz"),
    part("rail", "xzy"),
]
JOINTS = [
    joint(f"{guest}_{side}", "dado", f"{guest}.{side}", f"{side}.{other}", depth="3/8")
    for guest in ("shelf", "rail")
    for side, other in (("left", "right"), ("right", "left"))
]
SHELF = Fact(kind="cut", key="shelf", dimension="length")


def wrong(solution, fact):
    """Return a miscut that is one."""
    found = miscut(solution, fact)
    assert found is not None
    return found


def case(readings):
    distances = [
        distance("overall", "left.left", "right.right", 36, held=1),
        distance("inside", "left.right", "right.left"),
        size("left", "length", "zyx", 18),
        size("left", "width", "zyx", 12),
        size("shelf", "width", "xyz", 12),
        size("rail", "width", "xzy", 4),
        distance("up", "left.bottom", "shelf.bottom", 6),
        distance("rail_up", "left.bottom", "rail.bottom", 12),
        distance("set_back", "rail.back", "left.back", 1),
    ]
    flush = [["left.bottom", "right.bottom"], ["left.top", "right.top"],
             ["left.front", "right.front", "shelf.front"],
             ["left.back", "right.back"]]  # fmt: skip
    plan = data(PARTS, joints=JOINTS, distances=distances, flush=flush)
    return solved(plan, readings)


def test_a_shelf_that_fits_is_no_miscut():
    assert miscut(case({"cut": {"shelf.length": "35 1/4"}}), SHELF) is None


def test_less_than_half_a_mark_is_no_miscut():
    assert miscut(case({"cut": {"shelf.length": "35.28"}}), SHELF) is None
    assert miscut(case({"cut": {"shelf.length": "35.29"}}), SHELF) is not None


def test_what_it_changes_where_nothing_is_done():
    found = wrong(case({"cut": {"shelf.length": "35"}}), SHELF)

    assert found.wanted_mm == inches("141/4")
    assert found.off_mm == inches("-1/4")
    assert [
        (c.part.key, c.dimension, c.before_mm, c.after_mm)
        for c in found.as_it_is.changes
    ] == [("rail", "length", inches("141/4"), inches(35))]
    assert [
        (g.distance.key, g.before_mm, g.after_mm) for g in found.as_it_is.giving
    ] == [("overall", inches(36), inches("143/4"))]


def test_cut_again_takes_the_part_with_its_trim():
    blank = wrong(case({"cut": {"shelf.length": "35"}}), SHELF).blank

    assert blank.stock == "board"
    assert (blank.length_mm, blank.width_mm) == (inches("145/4"), inches("49/4"))
    assert blank.fits_in(inches(37), inches("49/4"))
    assert not blank.fits_in(inches(36), inches(20))
    assert not blank.fits_in(inches(40), inches(12))


class TestLettingGive:
    def test_each_wanted_distance_of_the_sum_is_a_way(self):
        found = wrong(case({"cut": {"shelf.length": "35"}}), SHELF)
        [way] = found.let_give

        assert way.distance.key == "overall"
        assert way.outcome == found.as_it_is

    def test_two_in_a_row_are_two_ways(self):
        """The left part is 6 wanted, both together 18: the right one 12, cut at 11."""
        parts = [part("a", "xyz"), part("b", "xyz")]
        plan = data(
            parts,
            joints=[joint("ab", "butt", "b.left", "a.right")],
            distances=[
                distance("first", "a.left", "a.right", 6, held=1),
                distance("both", "a.left", "b.right", 18, held=2),
                size("a", "width", "xyz", 4),
            ],
            flush=[["a.front", "b.front"], ["a.back", "b.back"], ["a.top", "b.top"]],
        )
        fact = Fact(kind="cut", key="b", dimension="length")
        found = wrong(solved(plan, {"cut": {"b.length": "11"}}), fact)
        ways = {
            way.distance.key: [
                (c.part.key, c.before_mm, c.after_mm) for c in way.outcome.changes
            ]
            for way in found.let_give
        }

        # the plan lets "both" give; else the left part has to grow
        assert ways == {"first": [("a", inches(6), inches(7))], "both": []}

    def test_the_ranks_of_the_others_stay(self):
        plan = given_first(case({}).plan, "overall")
        ranks = {d.key: d.held for d in plan.distances}

        assert list(ranks) == list(case({}).plan.distance_by_key)
        assert ranks["overall"] is None
        assert ranks["up"] == 1  # unranked before, now before the one that gives
        assert plan != case({}).plan


class TestUsingItElsewhere:
    def test_it_serves_as_a_part_it_is_large_enough_for(self):
        found = wrong(case({"cut": {"shelf.length": "35"}}), SHELF)
        ways = {
            way.part.key: (way.trim_length_mm, way.trim_width_mm)
            for way in found.use_as
        }

        assert ways == {
            "left": (inches(17), 0),
            "right": (inches(17), 0),
        }

    def test_a_part_already_cut_needs_no_other(self):
        cut = {"cut": {"shelf.length": "35", "left.length": "18"}}
        found = wrong(case(cut), SHELF)

        assert [way.part.key for way in found.use_as] == ["right"]


class TestSizesMarkedAsCut:
    SHORT = case({"cut": {"shelf.length": "35"}})

    def test_they_change_no_more(self):
        found = miscut(self.SHORT, SHELF, marked={("rail", "length")})
        assert found is not None
        [stuck] = found.as_it_is.stuck
        [way] = found.let_give

        assert found.as_it_is.changes == ()
        assert (stuck.part.key, stuck.before_mm) == ("rail", inches("141/4"))
        assert way.outcome == found.as_it_is

    @pytest.mark.parametrize(
        ("dimension", "serves"), [("length", ["right"]), ("width", ["left", "right"])]
    )
    def test_a_part_cut_off_needs_no_other(self, dimension, serves):
        found = miscut(self.SHORT, SHELF, marked={("left", dimension)})
        assert found is not None

        assert [way.part.key for way in found.use_as] == serves


@pytest.mark.parametrize(
    "fact",
    [
        Fact(kind="distance", key="overall"),
        Fact(kind="cut", key="rail", dimension="length"),
    ],
)
def test_only_a_size_as_cut_is_asked_about(fact):
    with pytest.raises(EngineError, match="no size as cut"):
        miscut(case({"cut": {"shelf.length": "35"}}), fact)


def test_lengths_stay_exact():
    found = wrong(case({"cut": {"shelf.length": "35 1/7"}}), SHELF)

    assert found.off_mm == inches(Fraction(35) + Fraction(1, 7) - Fraction(141, 4))


NEARLY = st.fractions(min_value=-1, max_value=1, max_denominator=64)
SIZES = {"shelf": Fraction(141, 4), "rail": Fraction(141, 4), "left": Fraction(18)}


@st.composite
def cuts(draw):
    """Sizes as cut, each within an inch of what is wanted, and what was logged last."""
    parts = draw(st.permutations(sorted(SIZES)))[: draw(st.integers(1, 3))]
    cut = {f"{part}.length": str(SIZES[part] + draw(NEARLY)) for part in parts}
    measured = draw(st.booleans())
    return {"cut": cut} | (
        {"distances": {"inside": str(Fraction(69, 2) + draw(NEARLY))}}
        if measured
        else {}
    )


class TestLaws:
    @given(cuts())
    def test_what_it_is_off_by_is_what_solving_without_it_says(self, readings):
        solution = case(readings)

        for fact in solution.readings.facts:
            if fact.kind != "cut":
                continue
            others = {f: r for f, r in solution.readings.facts.items() if f != fact}
            without = solve(solution.plan, replace(solution.readings, facts=others))
            size = (fact.key, fact.dimension)
            off_mm = solution.sizes[size] - without.sizes[size]
            found = miscut(solution, fact)
            assert off_by_mm(solution, fact) == off_mm
            assert (found.off_mm if found else None) == dict(miscuts(solution)).get(
                fact
            )

    @given(cuts())
    def test_as_it_is_is_the_solvers_own_difference(self, readings):
        solution = case(readings)

        for fact, _ in miscuts(solution):
            others = {f: r for f, r in solution.readings.facts.items() if f != fact}
            without = solve(solution.plan, replace(solution.readings, facts=others))
            told = wrong(solution, fact).as_it_is
            cut = {(f.key, f.dimension) for f in solution.readings.facts}
            assert {
                (c.part.key, c.dimension): (c.before_mm, c.after_mm)
                for c in told.changes
            } == {
                size: (mm, solution.sizes[size])
                for size, mm in without.sizes.items()
                if size not in cut and mm != solution.sizes[size]
            }
            assert {g.distance.key: g.after_mm for g in told.giving} == {
                d.key: solution.distances[d.key]
                for d in solution.plan.distances
                if d.value and solution.distances[d.key] != without.distances[d.key]
            }

    @given(cuts())
    def test_a_distance_that_is_let_give_is_the_only_one(self, readings):
        solution = case(readings)

        for fact, _ in miscuts(solution):
            others = {f: r for f, r in solution.readings.facts.items() if f != fact}
            without = solve(solution.plan, replace(solution.readings, facts=others))
            for way in wrong(solution, fact).let_give:
                plan = given_first(solution.plan, way.distance.key)
                after = solve(plan, solution.readings)
                moved = [
                    d.key
                    for d in plan.distances
                    if d.value and after.distances[d.key] != without.distances[d.key]
                ]
                assert moved == [way.distance.key]
