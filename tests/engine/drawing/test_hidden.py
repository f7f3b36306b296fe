from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.drawing.hidden import look
from projects.engine.drawing.project import PICTURE_AXES, project
from tests.engine.drawing.pieces import BENCH_HOUSED, INCH, bench, box, boxes

HALF = Fraction(1, 2)


def lengths(sight, *, hidden):
    return sum(s.high - s.low for s in sight.segments if s.hidden == hidden)


def see(parts, *, view="front", housed=()):
    return look(project(parts, view=view), housed=housed)


def rays(view):
    """Name the axis a view looks along, and whether it looks towards higher values."""
    return {"front": ("y", True), "side": ("x", False), "top": ("z", False)}[view]


def enters(part, view):
    """Return how far a ray of the view travels to the part."""
    axis, rising = rays(view)
    low, high = getattr(part, axis)
    return low if rising else -high


def brute_force(parts, *, view, housed, u, v):
    """Say what is drawn at a point, by asking every part: None, "seen" or "hidden"."""
    across, up = PICTURE_AXES[view]
    drawn = None
    for part in parts:
        (left, right), (low, high) = getattr(part, across), getattr(part, up)
        on_upright = u in (left, right) and low < v < high
        on_level = v in (low, high) and left < u < right
        if not (on_upright or on_level):
            continue
        covered = False
        for other in parts:
            (o_left, o_right), (o_low, o_high) = (
                getattr(other, across),
                getattr(other, up),
            )
            if o_left < u < o_right and o_low < v < o_high:
                ahead = enters(part, view) - enters(other, view)
                tied = ahead == 0 and (part.key, other.key) in housed
                covered = covered or ahead > 0 or tied
        if not covered:
            return "seen"
        drawn = "hidden"
    return drawn


def drawn_at(sight, u, v):
    found = [
        "hidden" if s.hidden else "seen"
        for s in sight.segments
        if (s.along == "u" and s.at == v and s.low < u < s.high)
        or (s.along == "v" and s.at == u and s.low < v < s.high)
    ]
    assert len(found) <= 1, "a line is drawn twice"
    return found[0] if found else None


class TestLook:
    def test_one_box_shows_its_whole_outline(self):
        sight = see([box("a", (0, 3), (0, 1), (0, 2))])

        assert lengths(sight, hidden=False) == 10 * INCH
        assert lengths(sight, hidden=True) == 0
        assert len(sight.segments) == 4

    def test_a_box_behind_a_larger_one_is_dashed(self):
        sight = see(
            [box("a", (0, 4), (0, 1), (0, 4)), box("b", (1, 2), (1, 2), (1, 2))]
        )

        assert lengths(sight, hidden=False) == 16 * INCH
        assert lengths(sight, hidden=True) == 4 * INCH
        assert sight.seen["b"] == ()

    def test_a_housed_end_is_dashed_as_deep_as_it_is_housed(self):
        side = box("side", (0, "3/4"), (0, 12), (0, 18))
        shelf = box("shelf", ("3/8", 20), (0, 12), (5, "23/4"))
        sight = see([side, shelf], housed={("shelf", "side")})

        # Hidden: two edges of 3/8 and the end, 3/4.
        assert lengths(sight, hidden=True) == Fraction(3, 2) * INCH
        # Seen: the side whole; of the shelf two edges from 3/4 to 20 and an end.
        assert (
            lengths(sight, hidden=False)
            == (Fraction(75, 2) + 2 * Fraction(77, 4) + Fraction(3, 4)) * INCH
        )

    def test_the_pair_turned_round_shows_the_guest_whole(self):
        side = box("side", (0, "3/4"), (0, 12), (0, 18))
        shelf = box("shelf", ("3/8", 20), (0, 12), (5, "23/4"))
        sight = see([side, shelf], housed={("side", "shelf")})

        # Only the side's inner edge runs on behind the shelf.
        assert lengths(sight, hidden=True) == Fraction(3, 4) * INCH

    def test_equally_near_parts_without_a_pair_both_show(self):
        side = box("side", (0, "3/4"), (0, 12), (0, 18))
        shelf = box("shelf", ("3/8", 20), (0, 12), (5, "23/4"))

        assert lengths(see([side, shelf]), hidden=True) == 0

    def test_a_shared_edge_is_drawn_once(self):
        sight = see(
            [box("a", (0, 1), (0, 1), (0, 1)), box("b", (1, 2), (0, 1), (0, 1))]
        )

        # Top and bottom run through in one piece, and there are three uprights.
        assert len(sight.segments) == 5
        assert lengths(sight, hidden=False) == 7 * INCH

    def test_an_edge_seen_goes_before_the_same_edge_hidden(self):
        sight = see(
            [
                box("a", (0, 2), (0, 1), (0, 2)),
                box("b", (0, 2), (1, 2), (0, 3)),
                box("c", (0, 2), (2, 3), (0, 1)),
            ]
        )

        assert lengths(sight, hidden=True) == 2 * INCH

    def test_the_bench_hides_its_back_behind_the_side(self):
        sight = see(bench(), view="side", housed=BENCH_HOUSED)

        assert lengths(sight, hidden=False) == 2 * (14 + 18) * INCH
        assert [key for key, shown in sight.seen.items() if shown] == ["right_side"]

    @pytest.mark.parametrize("view", ["front", "side", "top"])
    @settings(deadline=None)  # a busy machine is no failure
    @given(parts=boxes(), data=st.data())
    def test_agrees_with_asking_every_part_at_every_point(self, view, parts, data):
        keys = st.sampled_from([part.key for part in parts])
        housed = data.draw(st.sets(st.tuples(keys, keys), max_size=5))
        sight = see(parts, view=view, housed=housed)

        for twice_u in range(17):
            for twice_v in range(17):
                # On an edge one of the two is whole and the other is a half.
                if (twice_u + twice_v) % 2:
                    u, v = twice_u * HALF, twice_v * HALF
                    wanted = brute_force(parts, view=view, housed=housed, u=u, v=v)
                    assert drawn_at(sight, u, v) == wanted

    @settings(deadline=None)  # a busy machine is no failure
    @given(parts=boxes())
    def test_every_point_is_seen_on_some_nearest_part_only(self, parts):
        sight = see(parts)
        for place in range(64):
            u, v = place % 8 + HALF, place // 8 + HALF
            there = [p for p in parts if p.x[0] < u < p.x[1] and p.z[0] < v < p.z[1]]
            nearest = min((p.y[0] for p in there), default=None)
            shown = {
                key
                for key, areas in sight.seen.items()
                if any(a.u[0] < u < a.u[1] and a.v[0] < v < a.v[1] for a in areas)
            }
            assert shown == {p.key for p in there if p.y[0] == nearest}

    @settings(deadline=None)  # a busy machine is no failure
    @given(parts=boxes())
    def test_stretches_on_one_line_do_not_touch_their_own_kind(self, parts):
        lines: dict[object, list[tuple[Fraction, Fraction]]] = {}
        for s in see(parts).segments:
            lines.setdefault((s.along, s.at, s.hidden), []).append((s.low, s.high))

        for stretches in lines.values():
            for one, other in pairwise(sorted(stretches)):
                assert one[1] < other[0]
