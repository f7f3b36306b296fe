"""The computed numbers of one step: what its parts are cut to, and its joints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from django.utils.translation import gettext

from projects.engine.fit.solve import Solution
from projects.engine.joints import Measure
from projects.engine.plan.records import Dimension
from projects.engine.plan.steps import Step
from projects.engine.sheet import SheetCut, SheetPart, SheetSize, cut_sheet
from projects.engine.steps.turns import CUTTING
from projects.engine.units import Shown
from projects.present.step_words import quoted
from projects.showing import Showing


@dataclass(frozen=True, kw_only=True)
class NumberLine:
    """One number: `why` it is not ready to be used, "" where it is.

    `size` is the part and dimension whose sum is shown behind it.
    """

    label: str
    shown: Shown
    why: str = ""
    size: tuple[str, Dimension] | None = None


@dataclass(frozen=True, kw_only=True)
class CutLines:
    """One cut: what it is, where, and its numbers."""

    title: str
    where: str
    lines: tuple[NumberLine, ...]


@dataclass(frozen=True, kw_only=True)
class PartNumbers:
    """One part, or the two of a mirrored pair whose numbers are the same.

    `mirror_of` names the other of a pair that is told by itself.
    """

    names: tuple[str, ...]
    count: int
    mirror_of: str
    cuts: tuple[CutLines, ...]
    sizes: tuple[NumberLine, ...]


def part_numbers(
    solution: Solution, step: Step, showing: Showing, *, not_yet: str
) -> tuple[PartNumbers, ...]:
    """Return the numbers that a step cuts its parts to.

    A step with joints cuts those; one without cuts sizes; what comes together or is
    sanded has none. `not_yet` says why none of them is ready, "" where they are.
    """
    if step.stage not in CUTTING or (step.stage == "shaping" and not step.joints):
        return ()
    by_key = {part.part.key: part for part in cut_sheet(solution).parts}
    parts = [by_key[key] for key in _worked(solution, step)]
    writer = _Writer(solution, step, showing, not_yet)
    told: set[str] = set()
    found = []
    for part in parts:
        if part.part.key in told:
            continue
        other = by_key.get(part.part.pair or "")
        twin = other if other in parts and _alike(writer, part, other) else None
        told |= {part.part.key, twin.part.key if twin else ""}
        found.append(writer.part(part, twin))
    return tuple(found)


def _worked(solution: Solution, step: Step) -> tuple[str, ...]:
    """Return the parts a step works: those it names, else those of its joints."""
    if step.parts or not step.joints:
        return step.parts
    joints = [solution.plan.joint_by_key[key] for key in step.joints]
    ends = (end for joint in joints for end in (joint.host.part, joint.guest.part))
    return tuple(dict.fromkeys(ends))


def _alike(writer: _Writer, one: SheetPart, other: SheetPart) -> bool:
    """Tell whether the numbers of a mirrored pair are the same in this step."""
    mine, theirs = writer.cuts_of(one), writer.cuts_of(other)
    return (
        [(s.mm, s.waits, s.is_cut) for s in one.sizes]
        == [(s.mm, s.waits, s.is_cut) for s in other.sizes]
        and one.in_doubt == other.in_doubt
        and len(mine) == len(theirs)
        and all(_same(a, b) for a, b in zip(mine, theirs, strict=True))
    )


def _same(one: SheetCut, other: SheetCut) -> bool:
    def numbers(cut: SheetCut) -> tuple[object, ...]:
        return (
            cut.title,
            cut.width_mm,
            cut.depth_mm,
            cut.places,
            cut.endings,
            cut.measures,
        )

    others = {one.other.key, one.other.pair}
    return numbers(one) == numbers(other) and other.other.key in others


class _Writer:
    """Write the numbers of one step's parts."""

    def __init__(
        self, solution: Solution, step: Step, showing: Showing, not_yet: str
    ) -> None:
        self.solution, self.step = solution, step
        self.showing, self.not_yet = showing, not_yet

    def cuts_of(self, part: SheetPart) -> list[SheetCut]:
        return [cut for cut in part.cuts if cut.joint.key in self.step.joints]

    def part(self, part: SheetPart, twin: SheetPart | None) -> PartNumbers:
        both = [part, twin] if twin else [part]
        twin_cuts = self.cuts_of(twin) if twin else []
        mirror = part.mirror.name if part.mirror and not twin else ""
        cuts = self.cuts_of(part)
        return PartNumbers(
            names=tuple(one.part.name for one in both),
            count=part.part.count,
            mirror_of=mirror,
            cuts=tuple(
                self._cut(part, cut, twin, twin_cuts[n] if twin else None)
                for n, cut in enumerate(cuts)
            ),
            sizes=tuple(self._size(part, size) for size in part.sizes)
            if not self.step.joints
            else (),
        )

    def _size(self, part: SheetPart, size: SheetSize) -> NumberLine:
        why = self.not_yet
        if part.in_doubt:
            why = gettext("in doubt: measure again")
        elif size.waits:
            names = quoted(distance.name for distance in size.waits)
            why = gettext(
                "about; don't cut before {names} is measured at both ends"
            ).format(names=names)
        elif not why:
            why = self._from_plan(part.part.key)
        return NumberLine(
            label=_LABELS[size.dimension]() + (_as_cut() if size.is_cut else ""),
            shown=self.showing.of(size.mm),
            why=why,
            size=(part.part.key, size.dimension),
        )

    def _from_plan(self, part: str) -> str:
        """Return the word for what rests on a thickness that nobody measured."""
        if self.solution.readings.of_part(self.solution.plan, part):
            return ""
        return gettext("from the plan: measure the thickness first")

    def _cut(
        self,
        part: SheetPart,
        cut: SheetCut,
        twin: SheetPart | None,
        twin_cut: SheetCut | None,
    ) -> CutLines:
        faces = [(part.part.name, cut.face)]
        if twin and twin_cut:
            faces.append((twin.part.name, twin_cut.face))
        where = _where(cut.other.name, faces, is_slot=cut.width_mm is not None)
        along = (
            gettext(", along the {edge} edge").format(edge=place.edge)
            for place in cut.places
            if not place.mm
        )
        return CutLines(
            title=gettext(cut.title),
            where="".join((where, *along)),
            lines=tuple(self._lines(cut)),
        )

    def _lines(self, cut: SheetCut) -> list[NumberLine]:
        found = []
        if cut.width_mm is not None:
            # a slot is cut to its guest's caliper reading, finer than any tape
            found.append(
                NumberLine(
                    label=gettext("Wide"),
                    shown=self.showing.difference(cut.width_mm),
                    why=self.not_yet or self._from_plan(cut.joint.guest.part),
                )
            )
        if cut.depth_mm:
            found.append(self._of(gettext("Deep"), cut.depth_mm))
        for place in (place for place in cut.places if place.mm):
            label = gettext("Near side from the {edge} edge").format(edge=place.edge)
            found.append(self._of(label, place.mm))
        for ending in cut.endings:
            label = gettext("Stops short of the {edge} edge by")
            found.append(self._of(label.format(edge=ending.edge), ending.mm))
        return found + [self._measure(measure) for measure in cut.shown_measures]

    def _measure(self, measure: Measure) -> NumberLine:
        name = gettext(measure.name)
        return self._of(name[:1].upper() + name[1:], measure.mm)

    def _of(self, label: str, mm: Fraction) -> NumberLine:
        return NumberLine(label=label, shown=self.showing.of(mm), why=self.not_yet)


_LABELS = {
    "length": lambda: gettext("Length"),
    "width": lambda: gettext("Width"),
    "thickness": lambda: gettext("Thickness"),
}


def _as_cut() -> str:
    return gettext(", as cut")


def _where(other: str, faces: Sequence[tuple[str, str]], *, is_slot: bool) -> str:
    """Return where a cut is: its face on one part, or the two of a mirrored pair."""
    if is_slot:
        text = gettext("for {other}, in {faces}").format
        one = gettext("the {face} face")
        each = gettext("the {face} face of {part}")
    else:
        text = gettext("into {other}, at {faces}").format
        one = gettext("the {face} end")
        each = gettext("the {face} end of {part}")
    if len(faces) == 1:
        return text(other=other, faces=one.format(face=faces[0][1]))
    said = gettext(" and ").join(
        each.format(face=face, part=part) for part, face in faces
    )
    return text(other=other, faces=said)
