"""A student's cut sheet: every part once, its sizes, its cuts, and why."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from projects.engine.fit.advice import POINTS
from projects.engine.fit.equations import Input
from projects.engine.fit.solve import Doubt, Solution, Term
from projects.engine.fit.system import Form
from projects.engine.joints import KINDS, Measure
from projects.engine.piece import Ending, Place, endings, places
from projects.engine.plan.readings import Fact
from projects.engine.plan.records import (
    DIMENSIONS,
    Dimension,
    Distance,
    Joint,
    Part,
    Stock,
)
from projects.engine.shop.cautions import Caution, cautions
from projects.engine.units import mm_per

SHORT_IN = Fraction(12)
"""Parts shorter than this get the caution about short parts [in].

Source: common practice, no source (see `shop.cautions`, length).
"""


@dataclass(frozen=True, kw_only=True)
class SheetSize:
    """Hold one finished size [mm] of a part.

    `terms` are its sum where it has more than one term, `waits` the distances to
    measure before it is cut, `is_cut` where it is a cut part's reading.
    """

    dimension: Dimension
    mm: Fraction
    terms: tuple[Term, ...]
    waits: tuple[Distance, ...]
    is_cut: bool


@dataclass(frozen=True, kw_only=True)
class SheetCut:
    """Hold what one joint needs of one part.

    `title` is what is cut ("Dado", "Tenon") and `other` the part that meets there;
    `width_mm` and `depth_mm` [mm] are those of a slot, None on the guest's side.
    """

    joint: Joint
    title: str
    other: Part
    face: str
    width_mm: Fraction | None
    depth_mm: Fraction | None
    places: tuple[Place, ...]
    endings: tuple[Ending, ...]
    measures: tuple[Measure, ...]

    @property
    def shown_measures(self) -> tuple[Measure, ...]:
        """The measures that are not 0."""
        return tuple(measure for measure in self.measures if measure.mm)


@dataclass(frozen=True, kw_only=True)
class Shoulders:
    """Hold the length between a part's shoulders [mm], with its sum."""

    mm: Fraction
    terms: tuple[Term, ...]


@dataclass(frozen=True, kw_only=True)
class SheetPart:
    """Hold one part; `mirror` is the other of its pair.

    `in_doubt` where what it was logged as cut at can't be.
    """

    part: Part
    stock: Stock
    mirror: Part | None
    in_doubt: bool
    sizes: tuple[SheetSize, ...]
    cuts: tuple[SheetCut, ...]
    shoulders: Shoulders | None

    @property
    def waits(self) -> tuple[Distance, ...]:
        """The distances to measure before this part is cut."""
        return tuple(dict.fromkeys(d for size in self.sizes for d in size.waits))


@dataclass(frozen=True, kw_only=True)
class DryFit:
    """Hold a distance to measure on the dry assembly, and the parts cut to it.

    `expected_mm` [mm] is what it should come near; `read_mm` what was measured.
    """

    distance: Distance
    expected_mm: Fraction | None
    read_mm: Fraction | None
    parts: tuple[Part, ...]


@dataclass(frozen=True, kw_only=True)
class Unmeasured:
    """Hold a stock measured at fewer places than asked for: `have` of `asked`."""

    stock: Stock
    have: int
    asked: int


@dataclass(frozen=True, kw_only=True)
class Giving:
    """Hold a wanted distance that gives: by `off_mm` [mm], more where `over`.

    Less than half a mark of the tape isn't told: nobody could see it.
    """

    distance: Distance
    off_mm: Fraction
    over: bool


@dataclass(frozen=True, kw_only=True)
class CutSheet:
    """Hold all that stands on a cut sheet."""

    solution: Solution
    parts: tuple[SheetPart, ...]
    unmeasured: tuple[Unmeasured, ...]
    dry_fits: tuple[DryFit, ...]
    cautions: tuple[Caution, ...]
    doubts: tuple[Doubt, ...]
    giving: tuple[Giving, ...]


def cut_sheet(solution: Solution) -> CutSheet:
    """Return the cut sheet of a solved build."""
    plan = solution.plan
    parts = tuple(_part(solution, part) for part in plan.parts)
    gives = ((d, solution.gives_mm(d.key)) for d in plan.distances)
    return CutSheet(
        solution=solution,
        parts=parts,
        unmeasured=_unmeasured(solution),
        dry_fits=_dry_fits(solution, parts),
        cautions=cautions(_caution_keys(solution)),
        doubts=solution.in_doubt,
        giving=tuple(
            Giving(distance=distance, off_mm=abs(mm), over=mm > 0)
            for distance, mm in gives
            if mm and 2 * plan.tape * abs(mm) >= mm_per("in")
        ),
    )


def _part(solution: Solution, part: Part) -> SheetPart:
    plan = solution.plan
    return SheetPart(
        part=part,
        stock=plan.stock_by_key[part.stock],
        mirror=plan.part_by_key[part.pair] if part.pair else None,
        in_doubt=any(
            doubt.fact.key == part.key and doubt.fact.kind == "cut"
            for doubt in solution.in_doubt
            if not doubt.agrees
        ),
        sizes=tuple(_size(solution, part, dimension) for dimension in DIMENSIONS),
        cuts=tuple(
            cut for joint in plan.joints for cut in _cuts(solution, part, joint)
        ),
        shoulders=_shoulders(solution, part),
    )


def _size(solution: Solution, part: Part, dimension: Dimension) -> SheetSize:
    size = (part.key, dimension)
    terms = solution.terms(solution.form(size))
    cut = Fact(kind="cut", key=part.key, dimension=dimension)
    return SheetSize(
        dimension=dimension,
        mm=solution.sizes[size],
        terms=terms if len(terms) > 1 else (),
        waits=tuple(
            solution.plan.distance_by_key[key]
            for key in solution.system.waiting.get(size, ())
        ),
        is_cut=cut in solution.readings.facts,
    )


def _cuts(solution: Solution, part: Part, joint: Joint) -> list[SheetCut]:
    """Return what `joint` cuts on `part`: a slot on the host, an end on the guest."""
    kind, cuts = KINDS[joint.kind], solution.cuts[joint.key]
    by_key = solution.plan.part_by_key
    if joint.host.part == part.key and (cuts.width_mm is not None or cuts.on_host):
        return [
            SheetCut(
                joint=joint,
                title=kind.slot or kind.title,
                other=by_key[joint.guest.part],
                face=joint.host.name,
                width_mm=cuts.width_mm,
                depth_mm=cuts.depth_mm if kind.cut_to_depth else None,
                places=places(solution, joint),
                endings=endings(solution, joint),
                measures=cuts.on_host,
            )
        ]
    if joint.guest.part == part.key and cuts.on_guest:
        return [
            SheetCut(
                joint=joint,
                title=kind.title,
                other=by_key[joint.host.part],
                face=joint.guest.name,
                width_mm=None,
                depth_mm=None,
                places=(),
                endings=(),
                measures=cuts.on_guest,
            )
        ]
    return []


def _shoulders(solution: Solution, part: Part) -> Shoulders | None:
    """Return the length between shoulders of a part with tenons on its ends."""
    tenons = [
        joint
        for joint in solution.plan.joints
        if joint.kind == "tenon"
        and joint.guest.part == part.key
        and joint.guest.axis == part.axes["length"]
    ]
    if not tenons:
        return None
    form = solution.form((part.key, "length"))
    for joint in tenons:
        form = form.plus(_depth(solution, joint), times=Fraction(-1))
    return Shoulders(mm=form.value(solution.values), terms=solution.terms(form))


def _depth(solution: Solution, joint: Joint) -> Form:
    if joint.depth.share is None:
        return Form(terms=((Fraction(1), Input(kind="depth", key=joint.key)),))
    host = solution.plan.part_by_key[joint.host.part]
    size = solution.form((host.key, host.dimension_on(joint.host.axis)))
    return Form(terms=()).plus(size, times=joint.depth.share)


def _unmeasured(solution: Solution) -> tuple[Unmeasured, ...]:
    found = []
    for stock in solution.plan.stock:
        have = len(solution.readings.stock.get(stock.key, ()))
        parts = [p.key for p in solution.plan.parts if p.stock == stock.key]
        own = all(solution.readings.parts.get(key) for key in parts)
        if have < POINTS and parts and not own:
            found.append(Unmeasured(stock=stock, have=have, asked=POINTS))
    return tuple(found)


def _dry_fits(solution: Solution, parts: tuple[SheetPart, ...]) -> tuple[DryFit, ...]:
    found = []
    for distance in solution.plan.distances:
        if not distance.dry_fit:
            continue
        fact = Fact(kind="distance", key=distance.key)
        reading = solution.readings.facts.get(fact)
        waiting = tuple(part.part for part in parts if distance in part.waits)
        fitted = tuple(solution.plan.part_by_key[key] for key in distance.fits)
        found.append(
            DryFit(
                distance=distance,
                expected_mm=solution.distances[distance.key],
                read_mm=reading.length.mm if reading else None,
                parts=waiting or fitted,
            )
        )
    return tuple(found)


def _caution_keys(solution: Solution) -> list[str]:
    keys = [key for joint in solution.plan.joints for key in KINDS[joint.kind].cautions]
    short_mm = SHORT_IN * mm_per("in")
    if any(solution.sizes[p.key, "length"] < short_mm for p in solution.plan.parts):
        keys.append("length")
    return keys
