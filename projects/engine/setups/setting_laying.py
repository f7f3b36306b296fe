"""How parts are laid for their cuts, so that a pair comes out as a pair.

Two parts that mirror each other are laid with mirrored ends against the stop and
mirrored faces down. Which edge then goes into the cut first follows from that: a
part can be turned but not mirrored, so for the other of a pair it is the other edge.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from projects.engine.plan.records import AXES, FACES, Axis, FaceName
from projects.engine.setups.setting_records import Looks, Piece, PieceEnd, Side, Sum
from projects.engine.setups.setting_sums import Sums
from projects.engine.setups.setting_work import Work, mirrored_face, opposite

FROM_BELOW = ("table_saw", "router_table")
"""The machines whose cutter comes up from under the part, pushed across it."""
FROM_ABOVE = ("router", "mortiser", "drill_press")
SAME_MM = Fraction(2)
"""How far the places of two cuts may differ and still mirror each other [mm].

No two boards are equally thick, and what depends on it is not equal either.
Source: common practice, no source.
"""
_TURN = {("x", "y"): "z", ("y", "z"): "x", ("z", "x"): "y"}


@dataclass(frozen=True, kw_only=True)
class Aimed:
    """Hold a work with the ends it is told from; `mirrors` as in `Piece`."""

    work: Work
    end: FaceName | None
    start: FaceName | None
    mirrors: str | None = None

    @property
    def side(self) -> Side:
        """To which side of the blade or bit the stop is measured."""
        if self.end is not None:
            return "far" if self.work.walls[self.end].open else "near"
        return "near" if self.work.stop else "none"

    @property
    def stop(self) -> Sum | None:
        """How far the stop or fence is from that side of the blade or bit."""
        if self.end is None:
            return self.work.stop
        return self.work.walls[self.end].told


def aim(works: Sequence[Work]) -> list[Aimed]:
    """Return each work with the ends to measure from, mirrored ones for pairs."""
    by_part: dict[str, list[Work]] = {}
    for work in works:
        by_part.setdefault(work.part.key, []).append(work)
    aimed: dict[int, Aimed] = {}
    done: set[str] = set()
    for key, own in by_part.items():
        done.add(key)
        pair = own[0].part.pair
        for work in own:
            aimed.setdefault(
                id(work),
                Aimed(work=work, end=_best_end(work), start=_best_start(work)),
            )
        if pair is None or pair in done:
            continue
        for one, other, axis in _mirrored(own, by_part.get(pair, [])):
            first = replace(aimed[id(one)], mirrors=pair)
            aimed[id(one)] = first
            aimed[id(other)] = Aimed(
                work=other,
                end=first.end and mirrored_face(first.end, axis),
                start=first.start and mirrored_face(first.start, axis),
                mirrors=key,
            )
    return [aimed[id(work)] for work in works]


def lead(down: FaceName, against: FaceName) -> FaceName:
    """Return the edge that goes first where the stop or fence stands on the right.

    `down` lies on the table, `against` at the stop; what leads is upward turned into
    the direction of the stop, by the right-hand rule.
    """
    up_axis, up = FACES[opposite(down)]
    stop_axis, right = FACES[against]
    high = up is right
    ahead = _TURN.get((up_axis, stop_axis))
    if ahead is None:
        ahead, high = _TURN[stop_axis, up_axis], not high
    return next(face for face, of in FACES.items() if of == (ahead, high))


def piece(sums: Sums, aimed: Aimed, machine: str) -> Piece:
    """Return how the part of a work is laid at a machine."""
    work = aimed.work
    against = work.in_turn or ((aimed.end,) if aimed.end else ())
    down: tuple[FaceName, ...] = ()
    if machine in FROM_BELOW:
        down = (work.standing,) if work.standing else work.worked
    elif machine in FROM_ABOVE:
        down = tuple(opposite(face) for face in work.worked)
    leads = None
    if machine in FROM_BELOW and len(down) == len(against) == 1:
        leads = lead(down[0], against[0])
    return Piece(
        part=work.part.key,
        count=work.part.count,
        joint=work.joint,
        other=work.other,
        worked=work.worked,
        down=down,
        against=against,
        leads=leads,
        either=work.either,
        ends=_ends(work, leads) if work.length is None else (),
        start_from=aimed.start,
        holes=work.holes,
        mirrors=aimed.mirrors,
        looks=_looks(sums, aimed),
        in_doubt=work.part.key in sums.doubtful,
    )


def _looks(sums: Sums, aimed: Aimed) -> Looks:
    """Return whether the wide face worked looks at the other of the pair, or away."""
    part, worked = aimed.work.part, aimed.work.worked
    if aimed.mirrors is None or len(worked) != 1:
        return ""
    axis, high = FACES[worked[0]]
    higher = sums.pair_is_higher(part, axis)
    if part.dimension_on(axis) != "thickness" or higher is None:
        return ""
    return "inside" if higher is high else "outside"


def _ends(work: Work, leads: FaceName | None) -> tuple[PieceEnd, ...]:
    return tuple(
        PieceEnd(
            edge=edge,
            mm=run.short.mm,
            leads=None if leads is None else edge == leads,
            at_least=run.at_least,
        )
        for edge, run in work.runs.items()
    )


def _best_end(work: Work) -> FaceName | None:
    """Return the end a cut runs out at, else the one it is told from most shortly."""
    for end, walls in work.walls.items():
        if walls.open:
            return end
    return _shortest({end: walls.gap for end, walls in work.walls.items()})


def _best_start(work: Work) -> FaceName | None:
    if work.length is None:
        return None
    return _shortest({end: run.short for end, run in work.runs.items()})


def _shortest(told: Mapping[FaceName, Sum]) -> FaceName | None:
    """Return the end whose sum has the fewest inputs, then the nearest."""

    def terms(end: FaceName) -> tuple[int, Fraction]:
        return len(told[end].form.terms), told[end].mm

    return min(told, key=terms, default=None)


def _mirrored(
    own: Sequence[Work], others: Sequence[Work]
) -> list[tuple[Work, Work, Axis]]:
    """Return each work with its mirror image; none where no axis mirrors them all."""
    for axis in AXES if len(own) == len(others) else ():
        left = list(others)
        found = []
        for work in own:
            image = next((o for o in left if _is_image(work, o, axis)), None)
            if image is None:
                break
            left.remove(image)
            found.append((work, image, axis))
        else:
            return found
    return []


def _is_image(one: Work, other: Work, axis: Axis) -> bool:
    if (one.kind, one.either, one.holes) != (other.kind, other.either, other.holes):
        return False
    faces = {mirrored_face(face, axis) for face in one.worked}
    return (
        faces == set(other.worked)
        and _near(one.height, other.height)
        and _near(one.width, other.width)
        and _near(one.stop, other.stop)
        and _near(one.length, other.length)
        and _all_near(
            {mirrored_face(end, axis): w.near_mm for end, w in one.walls.items()},
            {end: w.near_mm for end, w in other.walls.items()},
        )
        and _all_near(
            {mirrored_face(end, axis): run.short.mm for end, run in one.runs.items()},
            {end: run.short.mm for end, run in other.runs.items()},
        )
    )


def _all_near(
    one: Mapping[FaceName, Fraction], other: Mapping[FaceName, Fraction]
) -> bool:
    return one.keys() == other.keys() and all(
        _same(mm, other[end]) for end, mm in one.items()
    )


def _near(one: Sum | None, other: Sum | None) -> bool:
    if one is None or other is None:
        return one is other
    return _same(one.mm, other.mm)


def _same(one: Fraction, other: Fraction) -> bool:
    return one == other or abs(one - other) <= SAME_MM
