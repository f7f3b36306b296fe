from itertools import product
from math import hypot, inf, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projects.engine.drawing.isometric import before, in_sight, lines, solids
from tests.engine.drawing.pieces import box, boxes

AXES = "xyz"
# Towards the viewer: to the right, to the front, up.
TOWARDS = {"x": 1, "y": -1, "z": 1}


def page(spot):
    """Project a point, written down anew."""
    u = (spot["x"] + spot["y"]) * sqrt(3) / 2
    v = spot["z"] + (spot["y"] - spot["x"]) / 2
    return round(float(u), 4), round(float(v), 4)


def inside_somewhere(spot, part):
    """Say whether the line of sight from a spot meets the inside of a part."""
    first, last = 0, inf
    for axis in AXES:
        low, high = getattr(part, axis)
        ends = [(end - spot[axis]) * TOWARDS[axis] for end in (low, high)]
        first = max(first, min(ends))
        last = min(last, max(ends))
    return first < last


def closed(spot, part):
    return all(getattr(part, a)[0] <= spot[a] <= getattr(part, a)[1] for a in AXES)


def edge_spots(part):
    """Give points all along the edges of a part, on a grid of ones."""
    for along in AXES:
        one, other = [axis for axis in AXES if axis != along]
        for a, b in product(getattr(part, one), getattr(part, other)):
            low, high = getattr(part, along)
            for step in range(int(low), int(high)):
                yield along, {along: step + 0.5, one: a, other: b}


def housing_spots(one, other):
    """Give points where the surface of one part meets that of another inside it."""
    for along in AXES:
        across = [axis for axis in AXES if axis != along]
        low = max(getattr(one, along)[0], getattr(other, along)[0])
        high = min(getattr(one, along)[1], getattr(other, along)[1])
        for a, b in (across, across[::-1]):
            for p, q in product(getattr(one, a), getattr(other, b)):
                if not getattr(other, a)[0] < p < getattr(other, a)[1]:
                    continue
                if not getattr(one, b)[0] < q < getattr(one, b)[1]:
                    continue
                for step in range(int(low), int(high)):
                    yield along, {along: step + 0.5, a: p, b: q}


def brute_force(parts, tied):
    """Return every point that is seen, with the axis of its line, on the page."""
    by_key = {part.key: part for part in parts}
    seen = set()
    for part in parts:
        hosts = [by_key[shown] for hidden, shown in tied if hidden == part.key]
        for along, spot in edge_spots(part):
            if any(inside_somewhere(spot, other) for other in parts):
                continue
            if not any(closed(spot, host) for host in hosts):
                seen.add((along, page(spot)))
    for one, other in product(parts, parts):
        for along, spot in housing_spots(one, other) if one is not other else ():
            if not any(inside_somewhere(spot, third) for third in parts):
                seen.add((along, page(spot)))
    return seen


def drawn(strokes):
    """Return the points that strokes of whole length run through, half steps."""
    found = set()
    for line in strokes:
        du, dv = line.u2 - line.u1, line.v2 - line.v1
        length = hypot(du, dv)
        axis = "z" if abs(du) < 1e-9 else "x" if du * dv < 0 else "y"
        steps = round(length)
        assert length == pytest.approx(steps)
        for step in range(steps):
            share = (step + 0.5) / steps
            u, v = line.u1 + share * du, line.v1 + share * dv
            found.add((axis, (round(u, 4) + 0.0, round(v, 4) + 0.0)))
    return found


class TestLines:
    @settings(deadline=None)  # a busy machine is no failure
    @given(parts=boxes(largest=5, most=5), data=st.data())
    def test_every_point_is_as_a_line_of_sight_says(self, parts, data):
        keys = [part.key for part in parts]
        pair = st.tuples(st.sampled_from(keys), st.sampled_from(keys))
        tied = data.draw(st.sets(pair.filter(lambda ends: ends[0] != ends[1])))
        found = lines(solids(parts, housed=tied))

        assert drawn(found.seen) == brute_force(parts, tied)
        assert found.hidden == ()

    @settings(deadline=None)
    @given(parts=boxes(largest=5, most=5))
    def test_hidden_lines_are_the_rest_of_the_edges(self, parts):
        found = lines(solids(parts), hidden=True)
        seen, hidden = drawn(found.seen), drawn(found.hidden)
        edges = {
            (along, page(spot)) for part in parts for along, spot in edge_spots(part)
        }

        assert not seen & hidden
        assert edges <= seen | hidden

    def test_a_box_shows_nine_edges_and_hides_three(self):
        found = lines(solids([box("a", (0, 3), (0, 2), (0, 1))]), hidden=True)

        assert len(found.seen) == 9
        assert len(found.hidden) == 3

    def test_the_edge_of_a_housing_shows(self):
        side = box("side", (0, 1), (0, 8), (0, 8))
        shelf = box("shelf", ("1/2", 9), (1, 7), (3, 4))
        apart = box("shelf", (1, 9), (1, 7), (3, 4))
        housed = {(s.u1, s.v1, s.u2, s.v2) for s in lines(solids([side, shelf])).seen}
        butted = {(s.u1, s.v1, s.u2, s.v2) for s in lines(solids([side, apart])).seen}

        # What shows of the shelf begins where it leaves the side, either way.
        assert {tuple(round(x, 6) for x in line) for line in housed} == {
            tuple(round(x, 6) for x in line) for line in butted
        }

    def test_a_through_housing_shows_the_end_a_stopped_one_does_not(self):
        side = box("side", (0, 1), (0, 8), (0, 8))
        shelf = box("shelf", ("1/2", 9), (0, 8), (3, 4))
        u = 12.7 * sqrt(3) / 2
        through = lines(solids([side, shelf], housed={("side", "shelf")})).seen
        stopped = lines(solids([side, shelf], housed={("shelf", "side")})).seen

        def end_of_shelf(strokes):
            return [s for s in strokes if s.u1 == s.u2 == pytest.approx(u)]

        def front_edge_of_side(strokes):
            at = 25.4 * sqrt(3) / 2
            found = [s for s in strokes if s.u1 == s.u2 == pytest.approx(at)]
            return sum(s.v2 - s.v1 for s in found)

        assert len(end_of_shelf(through)) == 1
        assert end_of_shelf(stopped) == []
        assert front_edge_of_side(through) == pytest.approx(7 * 25.4)
        assert front_edge_of_side(stopped) == pytest.approx(8 * 25.4)


class TestInSight:
    def test_what_lies_in_a_host_that_is_drawn_whole_is_not_seen(self):
        side = box("side", (0, 1), (0, 8), (0, 8))
        shelf = box("shelf", ("1/2", 9), (0, 8), (3, 4))
        stopped = solids([side, shelf], housed={("shelf", "side")})
        x, y, z = stopped.boxes[1]
        front = (x[0], y[1], (z[0] + z[1]) / 2)
        out = (x[1], y[1], z[1])

        assert before(stopped, 1) == [0]
        assert not in_sight(stopped, front, of=1, behind=[0])
        assert in_sight(stopped, out, of=1, behind=[0])
